using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Works;
using FleetLight.Electrics;

namespace FleetLight.Demo.Tests.Works;

/// <summary>
/// The demo's own physics, held against what FleetLight works out by another way: sound circuits read as they should, and
/// planted faults do not.
/// </summary>
public sealed class TruthTests
{
    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Sound_circuits_mostly_read_within(long seed)
    {
        var verdicts = Some.Fleet(seed).Circuits
            .Where(circuit => circuit.Role is not (Role.WrongWattage or Role.Reversed or Role.JointGoingBad or Role.FittingMended
                or Role.JointMended or Role.FittingChanged or Role.ReadingWithdrawn))
            .SelectMany(circuit => Verdicts(Some.Fleet(seed), circuit)).ToArray();
        Assert.InRange(verdicts.Length, 1500, 4000);
        Assert.InRange(verdicts.Count(verdict => verdict == VerdictKind.Within) / (double)verdicts.Length, 0.95, 1);
        Assert.InRange(verdicts.Count(verdict => verdict == VerdictKind.Outside) / (double)verdicts.Length, 0, 0.002);
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void A_wrong_wattage_reads_outside_from_the_first_day_on(long seed)
    {
        var fleet = Some.Fleet(seed);
        Assert.All(DriverVolts(fleet, fleet.With(Role.WrongWattage)), verdict => Assert.Equal(VerdictKind.Outside, verdict));
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void A_joint_going_bad_reads_within_at_first_and_outside_in_the_end(long seed)
    {
        var fleet = Some.Fleet(seed);
        var verdicts = DriverVolts(fleet, fleet.With(Role.JointGoingBad));
        Assert.All(verdicts.Take(8), verdict => Assert.NotEqual(VerdictKind.Outside, verdict));
        Assert.Equal(VerdictKind.Outside, verdicts[^1]);
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void A_reversed_fitting_shows_the_open_output_and_no_current(long seed)
    {
        var fleet = Some.Fleet(seed);
        var circuit = fleet.With(Role.Reversed);
        foreach (var reading in Readings(fleet, circuit).Where(reading => reading.Quantity != ReadingQuantity.LoopOhms))
        {
            if (reading.Quantity == ReadingQuantity.Milliamps) Assert.Equal(0, reading.Value);
            else Assert.Equal(circuit.Design.Driver.OpenCircuitVolts!.Value, reading.Value, 1.2);
        }
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Only_the_planted_driver_is_near_its_limit(long seed)
    {
        foreach (var circuit in Some.Fleet(seed).Circuits.Where(circuit => circuit.Design.Drive == DriveKind.ConstantCurrent))
        {
            var loading = Assert.IsType<ExpectedReadings>(Expected.Of(Model(circuit))).DriverVoltsDc.Best / circuit.Design.Driver.MostVolts!.Value;
            if (circuit.Role == Role.DriverNearLimit) Assert.InRange(loading, 0.91, 0.97);
            else Assert.InRange(loading, 0.2, 0.86);
        }
    }

    private static List<VerdictKind> DriverVolts(Fleet fleet, CircuitPlan circuit) =>
        [.. Verdicts(fleet, circuit, reading => reading is { Place: ReadingPlaceKind.Driver, Quantity: ReadingQuantity.VoltsDc })];

    private static IEnumerable<VerdictKind> Verdicts(Fleet fleet, CircuitPlan circuit, Func<ReadingTaken, bool>? which = null)
    {
        var expected = Expected.Of(Model(circuit));
        return Readings(fleet, circuit).Where(which ?? (_ => true)).Select(reading => Electrics.Verdicts.Judge(
            expected,
            new MeasuredReading(reading.PlaceId ?? CircuitModel.DriverNode, Quantity(reading.Quantity), reading.Value)
            {
                Meter = reading.Meter is { } meter ? new(meter.PercentOfReading, meter.Digits, meter.Resolution) : null,
            }).Kind);
    }

    private static IEnumerable<ReadingTaken> Readings(Fleet fleet, CircuitPlan circuit) =>
        fleet.Entries().OrderBy(entry => entry.At).Select(entry => entry.Fact).OfType<ReadingTaken>().Where(reading => reading.CircuitId == circuit.Id);

    private static MeasuredQuantity Quantity(ReadingQuantity quantity) => quantity switch
    {
        ReadingQuantity.LoopOhms => MeasuredQuantity.LoopOhms,
        ReadingQuantity.Milliamps => MeasuredQuantity.Milliamps,
        _ => MeasuredQuantity.VoltsDc,
    };

    private static CircuitModel Model(CircuitPlan circuit)
    {
        var driver = circuit.Design.Driver;
        return new CircuitModel(
            circuit.Design.Drive,
            new DriverModel
            {
                RatedMilliamps = driver.RatedMilliamps,
                RatedVolts = driver.RatedVolts,
                LeastVolts = driver.LeastVolts,
                MostVolts = driver.MostVolts,
                MostWatts = driver.MostWatts,
                OpenCircuitVolts = driver.OpenCircuitVolts,
                OutputTolerancePercent = driver.TolerancePercent ?? 5,
            },
            [.. circuit.Design.Fittings.Select(fitting => new FittingModel(fitting.FittingId, fitting.RatedWatts) { TolerancePercent = fitting.TolerancePercent ?? 5 })],
            [.. circuit.Runs.Select(run => new RunModel(
                run.Design.RunId, run.Design.From, run.Design.To, run.PulledMetres, run.Design.AreaSquareMillimetres, run.Design.ConductorClass))]);
    }
}
