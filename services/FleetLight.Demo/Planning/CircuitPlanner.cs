using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Physics;

namespace FleetLight.Demo.Planning;

/// <summary>Designs one circuit for what it plays.</summary>
internal sealed class CircuitPlanner(SiteGround ground, string circuitId, string side, Role role, bool mainsSide, Chance chance)
{
    // A designer keeps the far fitting of a low-voltage feed within this of the driver's volts.
    private const double MostDrop = 0.04;

    // And this much of a series driver's voltage for the cable, V.
    private const double MostCableVolts = 1.4;

    // What a run has beyond its own duct, m: the trunk where it leaves the driver, and what is left over in the boxes.
    private const double TrunkMetres = 12;
    private const double LeftoverMetres = 2.4;

    /// <summary>The circuit.</summary>
    public CircuitPlan Plan()
    {
        var current = role switch
        {
            Role.WrongWattage or Role.Reversed or Role.JointGoingBad or Role.DriverNearLimit or Role.ThreeInConnector
                or Role.ReadingWithdrawn or Role.LengthReplaced or Role.FittingMended or Role.JointMended or Role.FittingChanged => true,
            _ => chance.Once(0.5),
        };
        return current ? Series() : Feed();
    }

    private CircuitPlan Series()
    {
        var milliamps = role switch
        {
            Role.WrongWattage or Role.Reversed or Role.LengthReplaced or Role.FittingChanged => 350,
            Role.JointGoingBad or Role.DriverNearLimit => 500,
            _ => chance.Pick([350, 350, 500, 700]),
        };
        var (watts, count) = role switch
        {
            Role.WrongWattage => (1.6, 2),
            Role.Reversed => (1.6, 4),
            Role.JointGoingBad => (2.4, 4),
            Role.DriverNearLimit => (2.4, 5),
            Role.LengthReplaced => (1.6, 4),
            Role.FittingChanged => (1.6, 3),
            _ => (chance.Pick(Wares.WattsByMilliamps[milliamps]), chance.Whole(2, 12)),
        };
        var amps = milliamps / 1000.0;
        // The planted driver near its limit was chosen by somebody less careful.
        if (role != Role.DriverNearLimit) count = Math.Min(count, (int)(((Wares.MostLoad * Wares.MostVolts[^1]) - MostCableVolts) * amps / watts));

        var metres = Enumerable.Range(0, count).Select(index => role switch
        {
            Role.DriverNearLimit => chance.Between(3.6, 4.4),
            Role.LengthReplaced when index == count / 2 => chance.Between(70, 70.5),
            _ => index == 0 ? chance.Between(8, 30) : chance.Between(5, 16),
        }).ToArray();
        var conductorClass = chance.Pick([ConductorClass.Class5, ConductorClass.Class2]);
        var thinnest = role switch { Role.DriverNearLimit => 1.5, Role.LengthReplaced => 0.75, _ => chance.Pick([0.75, 1.0, 1.5]) };
        var ware = role == Role.BoxWithoutGel ? Wares.Uplight : chance.Pick(Wares.All);
        var layout = new RunLayout(ground, circuitId, ware.Lie, chance)
        {
            AreaSquareMillimetres = Copper.Areas.First(area => area >= thinnest
                && (role == Role.LengthReplaced || CableVolts(area) <= MostCableVolts)),
            ConductorClass = conductorClass,
            SpareCore = role == Role.ThreeInConnector || chance.Once(0.25),
        };
        string? place = null;
        for (var index = 0; index < count; index++) place = layout.Add(place, FittingId(index), metres[index], colour: ColourOf(index, count));

        var volts = (count * watts / amps) + (amps * layout.Runs.Sum(run => Ohms(run.Design)));
        var driver = role switch
        {
            Role.DriverNearLimit => Wares.CurrentDriverOf(milliamps, 26),
            // Room for the brighter fitting that comes to stand there.
            Role.WrongWattage or Role.FittingChanged => Wares.CurrentDriverOf(milliamps, 20),
            _ => Wares.CurrentDriver(milliamps, volts),
        };
        return Circuit(ware, DriveKind.ConstantCurrent, driver, watts, count, layout);

        double CableVolts(double area) => amps * (metres.Sum() + TrunkMetres + (LeftoverMetres * count)) * LoopOhmsAMetre(area, conductorClass);
    }

    private CircuitPlan Feed()
    {
        var volts = chance.Pick([12, 24, 24]);
        var watts = chance.Pick(Wares.WattsByVolts[volts]);
        var count = chance.Whole(3, volts == 12 ? 5 : 9);
        var ware = role == Role.BoxWithoutGel ? Wares.Uplight : chance.Pick(Wares.All);
        var sketch = Sketch(count);
        var layout = new RunLayout(ground, circuitId, ware.Lie, chance)
        {
            AreaSquareMillimetres = ThinnestArea(sketch, volts, watts),
            ConductorClass = ConductorClass.Class5,
            SpareCore = chance.Once(0.2),
        };
        var places = new List<string>();
        foreach (var (from, fitting, metres, turn) in sketch)
        {
            places.Add(layout.Add(
                from < 0 ? null : places[from], fitting is { } index ? FittingId(index) : null, metres, turn, ColourOf(places.Count, sketch.Count)));
        }

        return Circuit(ware, DriveKind.ConstantVoltage, Wares.VoltageDriver(volts, watts * count), watts, count, layout);
    }

    /// <summary>Where each run starts (index of a run before it, −1 for the driver), its fitting, the length and turn of its duct.</summary>
    private List<(int From, int? Fitting, double Metres, double Turn)> Sketch(int count)
    {
        var turn = chance.Between(50, 90);
        var firstArm = chance.Once(0.5) ? chance.Whole(1, count - 1) : 0;
        var sketch = new List<(int, int?, double, double)>();
        if (firstArm > 0) sketch.Add((-1, null, chance.Between(6, 14), 0));
        for (var index = 0; index < count; index++)
        {
            var startsArm = index == 0 || (firstArm > 0 && index == firstArm);
            var from = !startsArm ? sketch.Count - 1 : firstArm > 0 ? 0 : -1;
            var metres = from < 0 ? chance.Between(6, 14) : chance.Between(4, 9);
            sketch.Add((from, index, metres, firstArm == 0 ? 0 : index < firstArm ? -turn : turn));
        }

        return sketch;
    }

    // The same garden with thicker cable until the far fittings have their volts.
    private static double ThinnestArea(List<(int From, int? Fitting, double Metres, double Turn)> sketch, double volts, double watts)
    {
        double[] areas = [1.5, 2.5, 4];
        return areas.FirstOrDefault(area => WorstDrop(area) <= MostDrop, areas[^1]);

        double WorstDrop(double area)
        {
            var branches = sketch.Select(run => new FeedBranch(
                run.From,
                LoopOhmsAMetre(area, ConductorClass.Class5) * (run.Metres + LeftoverMetres + (run.From < 0 ? TrunkMetres : 0)),
                run.Fitting is null ? 0 : watts)).ToArray();
            return 1 - (FeedTree.Solve(volts, branches).Volts.Min() / volts);
        }
    }

    private CircuitPlan Circuit(Ware ware, DriveKind drive, DriverDesign driver, double watts, int count, RunLayout layout)
    {
        var stated = chance.Once(0.7);
        var least = drive == DriveKind.ConstantVoltage ? driver.RatedVolts * 0.87 : null;
        return new CircuitPlan(
            new CircuitDesigned
            {
                SiteId = ground.SiteId,
                CircuitId = circuitId,
                Name = $"{ware.Circuit} {side}",
                Drive = drive,
                Driver = driver,
                Fittings =
                [
                    .. Enumerable.Range(0, count).Select(index => new FittingDesign
                    {
                        FittingId = FittingId(index),
                        RatedWatts = watts,
                        TolerancePercent = stated ? 5 : null,
                        LeastVolts = least,
                        Description = ware.Fitting,
                    }),
                ],
                Runs = [.. layout.Runs.Select(run => run.Design)],
                MainsSide = mainsSide,
            },
            layout.Runs,
            role);
    }

    private string FittingId(int index) => $"{circuitId}-f{index + 1:d2}";

    private DuctColour ColourOf(int run, int runs) =>
        role == Role.DuctWrongColour && run == runs / 2 ? DuctColour.Blue : DuctColour.Orange;

    private static double Ohms(RunDesign run) =>
        run.LengthMetres * LoopOhmsAMetre(run.AreaSquareMillimetres, run.ConductorClass);

    private static double LoopOhmsAMetre(double area, ConductorClass conductorClass) =>
        2 * Copper.MostOhmsPerKilometre(area, conductorClass) / 1000;
}
