namespace FleetLight.Electrics.Tests.Spice;

/// <summary>
/// Generated constant-voltage networks, as recorded and with faults, beside the simulator ngspice: every voltage and
/// current agrees within 0.02 %, or 0.2 mV and 0.02 mA where that is more.
/// </summary>
public class NetworkAgreementTests(ITestOutputHelper output)
{
    private const int OfEachKind = 10;
    private const int MostAttempts = 5;

    public static TheoryData<NetworkKind> Kinds =>
        [.. Enum.GetValues<NetworkKind>().Where(kind => kind != NetworkKind.NearCollapse)];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_reading_agrees_with_the_simulator(NetworkKind kind)
    {
        Ngspice.Need();
        var agreement = new Agreement();
        var ofTheKind = 0;
        Parallel.For(0, OfEachKind, new ParallelOptions { MaxDegreeOfParallelism = 2 }, number =>
        {
            // The first of a few circuits that runs and in which every fitting is clearly lit or clearly dark.
            for (var attempt = 0; attempt < MostAttempts; attempt++)
            {
                var circuit = NetworkCircuits.Make(kind, number + (attempt * 100), Seed.Value);
                var found = new AsFound(circuit.Model, circuit.Assumptions, circuit.Changes);
                if (!NetworkOracle.TrySolve(found, out var oracle)) continue;
                agreement.Check(circuit, oracle);
                if (oracle is null) continue;
                if (IsOfKind(kind, circuit.Model, oracle)) Interlocked.Increment(ref ofTheKind);
                return;
            }
        });
        output.WriteLine($"{kind}: {agreement.Summary}");
        agreement.Hold();
        Assert.Equal(OfEachKind, agreement.Circuits - agreement.Collapsed);
        Assert.Equal(OfEachKind, ofTheKind);
        if (IsSound(kind)) Assert.Equal(OfEachKind, agreement.Expectations);
    }

    [Fact]
    public void Every_kind_is_there() => Assert.Equal(29, Kinds.Count);

    // As recorded and within the driver's limits, so that there is an answer of expected readings.
    private static bool IsSound(NetworkKind kind) => kind is NetworkKind.Radial or NetworkKind.Branched
        or NetworkKind.RingFed or NetworkKind.InSeveralRings or NetworkKind.OfConstantPower
        or NetworkKind.OfConstantCurrent or NetworkKind.Resistive or NetworkKind.WithTails;

    // That the simulator finds what the kind is there for.
    private static bool IsOfKind(NetworkKind kind, CircuitModel model, Oracle oracle)
    {
        var (volts, milliamps) = (oracle.DriverVolts, oracle.DriverMilliamps);
        var driver = model.Driver;
        return kind switch
        {
            NetworkKind.AtGreatestAmps =>
                volts < 0.99 * driver.RatedVolts && Math.Abs(milliamps - (1000 * driver.MostAmps!.Value)) < 0.1,
            NetworkKind.AtGreatestWatts =>
                volts < 0.99 * driver.RatedVolts
                    && Math.Abs((volts * milliamps / 1000 / driver.MostWatts!.Value) - 1) < 1e-4,
            NetworkKind.FittingsGoneDark => model.Fittings.Any(fitting =>
                fitting.LeastVolts > oracle.Readings[(fitting.Id, MeasuredQuantity.VoltsDc)]),
            NetworkKind.SupplyReversed => volts < 0,
            NetworkKind.NoOutput => volts == 0,
            NetworkKind.RunOpen => volts == driver.RatedVolts,
            _ => volts > 0,
        };
    }
}
