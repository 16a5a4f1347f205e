using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>Generates constant-current loops of every kind.</summary>
internal static class SeriesCircuits
{
    public static GeneratedCircuit Make(SeriesKind kind, int number, int seed)
    {
        var chance = new Chance(seed, (int)kind, number);
        var assumptions = chance.Assumptions();
        // How dark strings share what voltage there is depends on how they leak, which nobody knows; strings for one
        // current share it in proportion to their volts whether the LEDs or the leakage rule.
        var isUniform = kind is SeriesKind.CoresShorted or SeriesKind.CoresLeaking or SeriesKind.LeakAtGreatestVolts
            or SeriesKind.SeveralFaults;
        var model = kind switch
        {
            SeriesKind.InBranches => Tree(chance, isUniform),
            SeriesKind.InSingleCores => Ring(chance, isUniform),
            SeriesKind.CoresShorted or SeriesKind.CoresLeaking or SeriesKind.RunOpen when chance.OneIn(3) =>
                Tree(chance, isUniform),
            _ => Chain(chance, isUniform),
        };
        model = WithDriver(model, kind, chance);
        return new GeneratedCircuit(
            $"{kind} {number} of seed {seed}", model, assumptions, Changes(model, kind, chance));
    }

    // What the loop would need at its rated current without its cable, V.
    private static double RatedVolts(CircuitModel model) => model.Fittings.Sum(fitting =>
        fitting.RatedWatts / (fitting.StatedMilliamps ?? model.Driver.RatedMilliamps!.Value) * 1000);

    private static CircuitModel Chain(Chance chance, bool isUniform)
    {
        var fittings = Fittings(chance, isUniform);
        var runs = new List<RunModel>();
        var at = CircuitModel.DriverNode;
        foreach (var fitting in fittings)
        {
            if (chance.OneIn(4)) at = Lay(runs, at, $"box {runs.Count}", chance);
            at = Lay(runs, at, fitting.Id, chance);
        }

        if (chance.OneIn(4)) Lay(runs, at, "spare end", chance);
        return Loop(fittings, runs);
    }

    private static CircuitModel Tree(Chance chance, bool isUniform)
    {
        var fittings = Fittings(chance, isUniform);
        var runs = new List<RunModel>();
        List<string> nodes = [CircuitModel.DriverNode];
        foreach (var fitting in fittings)
        {
            var from = chance.Of([.. nodes]);
            if (chance.OneIn(3)) nodes.Add(from = Lay(runs, from, $"box {runs.Count}", chance));
            nodes.Add(Lay(runs, from, fitting.Id, chance));
        }

        return Loop(fittings, runs);
    }

    private static CircuitModel Ring(Chance chance, bool isUniform)
    {
        var fittings = Fittings(chance, isUniform);
        var runs = new List<RunModel>();
        var at = CircuitModel.DriverNode;
        foreach (var node in fittings.Select(fitting => fitting.Id).Append(CircuitModel.DriverNode))
        {
            var run = chance.Run($"r{runs.Count}", at, node, chance.Between(1, 30), Copper.Areas);
            runs.Add(run with { From = at, To = node, ConductorsInLoop = 1 });
            at = node;
        }

        return Loop(fittings, runs);
    }

    private static ImmutableArray<FittingModel> Fittings(Chance chance, bool isUniform)
    {
        var count = chance.Of(chance.Whole(2, 8), chance.Whole(2, 20), chance.Whole(20, 40));
        // Within the extra-low voltages: 110 V at 350 mA for all of them together.
        var most = Math.Min(8, 110 * 0.35 / count);
        double[] catalogue = [most, chance.Between(0.2, 0.5) * most, chance.Between(0.4, 1) * most];
        double? stated = chance.OneIn(4) ? chance.Of(300, 350, 500, 700) : null;
        return
        [
            .. Enumerable.Range(1, count).Select(i => new FittingModel($"f{i}", chance.Of(catalogue))
            {
                StatedMilliamps = isUniform || chance.OneIn(2) ? stated : null,
                HasBypassDiode = true,
                Tail = chance.Tail(3),
            }),
        ];
    }

    private static string Lay(List<RunModel> runs, string from, string to, Chance chance)
    {
        runs.Add(chance.Run($"r{runs.Count}", from, to, chance.Between(1, 30), Copper.Areas));
        return to;
    }

    private static CircuitModel Loop(ImmutableArray<FittingModel> fittings, List<RunModel> runs) =>
        new(DriveKind.ConstantCurrent, new DriverModel(), fittings, [.. runs]);

    private static CircuitModel WithDriver(CircuitModel model, SeriesKind kind, Chance chance)
    {
        var driver = new DriverModel { RatedMilliamps = chance.Of(350, 500, 700, chance.Between(250, 1400)) };
        model = model with { Driver = driver };
        var volts = RatedVolts(model);
        // Whatever the cable, these are not to come to the greatest volts.
        var isFar = kind is SeriesKind.AsRecorded or SeriesKind.InBranches or SeriesKind.InSingleCores
            or SeriesKind.AtGreatestWatts;
        var isAtLimit = kind is SeriesKind.AtGreatestVolts or SeriesKind.LeakAtGreatestVolts;
        var most = isFar ? 1000 : volts * (isAtLimit ? chance.Between(0.75, 0.98) : chance.Between(1.2, 2));
        driver = driver with { MostVolts = most, OpenCircuitVolts = most * chance.Between(1, 1.2) };
        if (kind == SeriesKind.AtGreatestWatts)
            driver = driver with { MostWatts = volts * driver.RatedMilliamps / 1000 * chance.Between(0.4, 0.7) };
        if (kind == SeriesKind.SupplyReversed && chance.OneIn(2))
        {
            var blocked = chance.Whole(0, model.Fittings.Length - 1);
            var fitting = model.Fittings[blocked] with { HasBypassDiode = chance.Of<bool?>(false, null) };
            model = model with { Fittings = model.Fittings.SetItem(blocked, fitting) };
        }

        return model with { Driver = driver };
    }

    private static ImmutableArray<CircuitChange> Changes(CircuitModel model, SeriesKind kind, Chance chance)
    {
        var fitting = chance.Whole(0, model.Fittings.Length - 1);
        var run = chance.Whole(0, model.Runs.Length - 1);
        var node = chance.OneIn(6) ? CircuitModel.DriverNode : chance.Of(model.Runs[run].From, model.Runs[run].To);
        // In ohms by what the whole loop is.
        var ohms = 1000 * model.Driver.MostVolts!.Value / model.Driver.RatedMilliamps!.Value;
        return kind switch
        {
            SeriesKind.CoresShorted => [new CoresBridged(node, chance.OneIn(3) ? chance.Log(0.01, 2) : 0)],
            SeriesKind.CoresLeaking => [new CoresBridged(node, chance.Log(20, 100_000))],
            SeriesKind.LeakAtGreatestVolts => [new CoresBridged(node, chance.Log(10, 300) * ohms)],
            SeriesKind.FittingShorted => [new FittingBypassed(fitting, 0)],
            SeriesKind.FittingBypassedByDiode => [new FittingBypassed(fitting, chance.Between(0.3, 0.9))],
            SeriesKind.FittingOpen => [new FittingOpen(fitting)],
            SeriesKind.RunOpen => [new RunOpen(chance.OneIn(5) ? -1 : run)],
            SeriesKind.JointWithResistance => [new RunJointOhms(chance.OneIn(5) ? -1 : run, chance.Log(0.1, 50))],
            SeriesKind.OtherWattage => [new FittingHasWatts(fitting, chance.Between(0.5, 12))],
            SeriesKind.OtherDriverCurrent =>
                [new DriverGives(chance.Of(150, 350, 500, 700, chance.Between(100, 1400)))],
            SeriesKind.OtherArea => [new RunHasArea(chance.OneIn(3) ? -1 : run, chance.Of(Copper.Areas))],
            SeriesKind.OtherLength => [new RunLengthFactor(chance.OneIn(3) ? -1 : run, chance.Log(0.2, 5))],
            SeriesKind.SupplyReversed => [new SupplyReversed()],
            SeriesKind.MadeForConstantVoltage => [new FittingForOtherDrive(fitting, chance.Of(12.0, 24.0))],
            SeriesKind.OneFittingMore => [new FittingAdded(chance.OneIn(2) ? null : node, chance.Between(0.5, 8))],
            SeriesKind.NoOutput => [new DriverDead()],
            SeriesKind.SeveralFaults =>
            [
                new CoresBridged(node, chance.Log(300, 10_000)),
                new CoresBridged(model.Fittings[fitting].Id, chance.Log(300, 10_000)),
                new RunJointOhms(run, chance.Log(0.1, 20)),
                new FittingBypassed(fitting, chance.Of(0, 0.7)),
                new RunHasArea(-1, chance.Of(Copper.Areas)),
                new RunLengthFactor(run, chance.Between(0.5, 2)),
            ],
            _ => [],
        };
    }
}
