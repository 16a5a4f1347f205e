using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Demo.Physics;

namespace FleetLight.Demo.Planning;

/// <summary>Designs one circuit for what it plays.</summary>
internal sealed class CircuitPlanner(SiteGround ground, string circuitId, string side, Role role, bool mainsSide, Chance chance)
{
    // A designer keeps the far fitting of a low-voltage feed within this of the driver's volts.
    private const double MostDrop = 0.04;

    /// <summary>The circuit.</summary>
    public CircuitPlan Plan()
    {
        var current = role switch
        {
            Role.WrongWattage or Role.Reversed or Role.JointGoingBad or Role.DriverNearLimit or Role.ThreeInConnector
                or Role.ReadingWithdrawn or Role.LengthReplaced or Role.FittingMended or Role.FittingChanged => true,
            _ => chance.Once(0.5),
        };
        return current ? Series() : Feed();
    }

    private CircuitPlan Series()
    {
        var milliamps = role switch
        {
            Role.WrongWattage or Role.Reversed or Role.LengthReplaced or Role.FittingChanged => 350,
            Role.JointGoingBad => 500,
            Role.DriverNearLimit => 700,
            _ => chance.Pick([350, 350, 500, 700]),
        };
        var (watts, count) = role switch
        {
            Role.WrongWattage => (1.6, 2),
            Role.Reversed => (1.6, 5),
            Role.JointGoingBad => (2.4, 6),
            Role.DriverNearLimit => (3.4, 9),
            Role.LengthReplaced => (1.6, 4),
            Role.FittingChanged => (1.6, 3),
            _ => (chance.Pick(Wares.WattsByMilliamps[milliamps]), chance.Whole(2, 12)),
        };
        var amps = milliamps / 1000.0;
        count = Math.Min(count, (int)(role == Role.DriverNearLimit ? 48 : 34 / (watts / amps)));

        var ware = role == Role.BoxWithoutGel ? Wares.Uplight : chance.Pick(Wares.All);
        var layout = new RunLayout(ground, circuitId, ware.Lie, chance)
        {
            AreaSquareMillimetres = role switch { Role.DriverNearLimit => 1.5, Role.LengthReplaced => 0.75, _ => chance.Pick([0.75, 1.0, 1.5]) },
            ConductorClass = chance.Pick([ConductorClass.Class5, ConductorClass.Class2]),
            SpareCore = role == Role.ThreeInConnector || chance.Once(0.25),
        };
        string? place = null;
        for (var index = 0; index < count; index++)
        {
            var metres = role switch
            {
                Role.DriverNearLimit => chance.Between(3.6, 4.4),
                Role.LengthReplaced when index == count / 2 => chance.Between(70, 70.5),
                _ => index == 0 ? chance.Between(8, 30) : chance.Between(5, 16),
            };
            place = layout.Add(place, FittingId(index), metres, colour: ColourOf(index, count));
        }

        var volts = (count * watts / amps) + (amps * layout.Runs.Sum(run => Ohms(run.Design)));
        var driver = role == Role.DriverNearLimit ? Wares.CurrentDriverOf(milliamps, 48) : Wares.CurrentDriver(milliamps, volts);
        return Circuit(ware, DriveKind.ConstantCurrent, driver, watts, count, layout);
    }

    private CircuitPlan Feed()
    {
        var volts = chance.Pick([12, 24, 24]);
        var watts = chance.Pick(Wares.WattsByVolts[volts]);
        var count = chance.Whole(3, volts == 12 ? 6 : 9);
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
            // 2 m are left over in the boxes; the trunk adds up to 12 m to what leaves the driver.
            var ohmsAMetre = 2 * Copper.MostOhmsPerKilometre(area, ConductorClass.Class5) / 1000;
            var branches = sketch.Select(run => new FeedBranch(
                run.From, ohmsAMetre * (run.Metres + (run.From < 0 ? 14 : 2)), run.Fitting is null ? 0 : watts)).ToArray();
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
        2 * run.LengthMetres * Copper.MostOhmsPerKilometre(run.AreaSquareMillimetres, run.ConductorClass) / 1000;
}
