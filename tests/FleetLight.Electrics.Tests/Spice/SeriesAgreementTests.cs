namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// Generated constant-current loops, as recorded and with faults, beside the simulator ngspice: every voltage and
/// current agrees within 0.02 %, or 0.2 mV and 0.02 mA where that is more.
/// </summary>
public class SeriesAgreementTests(ITestOutputHelper output)
{
    private const int OfEachKind = 10;

    public static TheoryData<SeriesKind> Kinds => new(Enum.GetValues<SeriesKind>());

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_reading_agrees_with_the_simulator(SeriesKind kind)
    {
        Ngspice.Need();
        var agreement = new Agreement();
        var ofTheKind = 0;
        Parallel.For(0, OfEachKind, new ParallelOptions { MaxDegreeOfParallelism = 2 }, number =>
        {
            var circuit = SeriesCircuits.Make(kind, number, Seed.Value);
            var oracle = SeriesOracle.Solve(new AsFound(circuit.Model, circuit.Assumptions, circuit.Changes));
            agreement.Check(circuit, oracle);
            if (oracle is not null && IsOfKind(kind, circuit.Model.Driver, oracle))
                Interlocked.Increment(ref ofTheKind);
        });
        output.WriteLine($"{kind}: {agreement.Summary}");
        agreement.Hold();
        Assert.Equal(OfEachKind, agreement.Circuits);
        Assert.Equal(0, agreement.Collapsed);
        Assert.Equal(OfEachKind, ofTheKind);
        if (IsSound(kind)) Assert.Equal(OfEachKind, agreement.Expectations);
    }

    [Fact]
    public void Every_kind_is_there() => Assert.Equal(22, Kinds.Count);

    // As recorded and within the driver's limits, so that there is an answer of expected readings.
    private static bool IsSound(SeriesKind kind) =>
        kind is SeriesKind.AsRecorded or SeriesKind.InBranches or SeriesKind.InSingleCores;

    // That the simulator finds what the kind is there for.
    private static bool IsOfKind(SeriesKind kind, DriverModel driver, Oracle oracle)
    {
        var (volts, milliamps) = (oracle.DriverVolts, oracle.DriverMilliamps);
        var isAtMost = volts > 0.9999 * driver.MostVolts && milliamps < 0.999 * driver.RatedMilliamps;
        return kind switch
        {
            SeriesKind.AtGreatestVolts or SeriesKind.LeakAtGreatestVolts => isAtMost,
            SeriesKind.AtGreatestWatts => Math.Abs((volts * milliamps / 1000) - driver.MostWatts!.Value) < 1e-3,
            SeriesKind.FittingOpen or SeriesKind.RunOpen => volts >= driver.MostVolts && milliamps < 1e-3,
            SeriesKind.SupplyReversed => volts < 0,
            SeriesKind.NoOutput => volts == 0 && Math.Abs(milliamps) < 1e-3,
            _ => milliamps > 1,
        };
    }
}
