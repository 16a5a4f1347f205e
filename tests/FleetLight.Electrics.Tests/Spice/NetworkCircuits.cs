using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>Generates constant-voltage networks of every kind.</summary>
internal static class NetworkCircuits
{
    private static readonly double[] Areas = [1.5, 2.5, 4, 6, 10];

    public static GeneratedCircuit Make(NetworkKind kind, int number, int seed)
    {
        // Apart from the loops' chance.
        var chance = new Chance(seed, 100 + (int)kind, number);
        var assumptions = chance.Assumptions();
        // At 12 V no fitting needs more than 10 kW to come near collapse.
        var volts = kind == NetworkKind.NearCollapse ? 12 : chance.Of(12.0, 24.0, 48.0);
        var isDark = kind == NetworkKind.FittingsGoneDark;
        var tree = new NetworkTree(chance, assumptions, volts, Shape(kind, chance), isDark ? 6 : 2);
        tree.AddFittings(chance, Loads(kind));
        tree.ScaleTo(isDark ? chance.Between(0.15, 0.25) : chance.Between(0.01, 0.15));
        if (isDark) tree.LetGoDark(chance);
        else if (Drops(kind)) tree.GiveLeastVolts(chance);
        var model = tree.Model(Rings(kind, chance), chance) with { Driver = Driver(kind, tree, chance) };
        return new GeneratedCircuit(
            $"{kind} {number} of seed {seed}", model, assumptions, Changes(model, kind, chance));
    }

    /// <summary>Kinds whose fault takes so many volts that fittings of constant power go dark.</summary>
    private static bool Drops(NetworkKind kind) => kind is NetworkKind.CoresShorted or NetworkKind.CoresLeaking
        or NetworkKind.FittingShorted or NetworkKind.FittingBypassedByDiode or NetworkKind.MadeForConstantCurrent
        or NetworkKind.SeveralFaults;

    private static int Rings(NetworkKind kind, Chance chance) => kind switch
    {
        NetworkKind.RingFed => 1,
        NetworkKind.RunOpenInRing or NetworkKind.JointInRing => chance.Whole(1, 2),
        NetworkKind.NearCollapse => chance.Whole(0, 2),
        NetworkKind.InSeveralRings => chance.Whole(2, 3),
        NetworkKind.CoresLeaking or NetworkKind.OtherWattage or NetworkKind.OtherArea or NetworkKind.OtherLength
            or NetworkKind.OneFittingMore or NetworkKind.AtGreatestAmps => chance.Whole(0, 2),
        _ => 0,
    };

    // Share of nodes that hang on the one before: 1 is a chain.
    private static double Shape(NetworkKind kind, Chance chance) => kind switch
    {
        NetworkKind.Radial => 1,
        NetworkKind.Branched => 0.3,
        _ => chance.Of(0.3, 0.7, 0.9),
    };

    private static LoadKind[] Loads(NetworkKind kind) => kind switch
    {
        NetworkKind.OfConstantPower => [LoadKind.ConstantPower],
        NetworkKind.OfConstantCurrent => [LoadKind.ConstantCurrent],
        NetworkKind.Resistive => [LoadKind.Resistive],
        NetworkKind.AtGreatestAmps or NetworkKind.AtGreatestWatts =>
            [LoadKind.Resistive, LoadKind.Resistive, LoadKind.ConstantCurrent],
        _ => Enum.GetValues<LoadKind>(),
    };

    private static DriverModel Driver(NetworkKind kind, NetworkTree tree, Chance chance)
    {
        var driver = new DriverModel { RatedVolts = tree.Volts };
        var shed = chance.Between(0.5, 0.9) * tree.Amps(LoadKind.Resistive);
        return kind switch
        {
            NetworkKind.AtGreatestAmps => driver with { MostAmps = shed + tree.Amps(LoadKind.ConstantCurrent) },
            NetworkKind.AtGreatestWatts => driver with
            {
                MostWatts = tree.Volts * (shed + tree.Amps(LoadKind.ConstantCurrent)),
            },
            NetworkKind.NearCollapse => driver,
            _ => driver with { MostAmps = chance.Between(3, 6) * tree.Amps(null) },
        };
    }

    private static ImmutableArray<CircuitChange> Changes(CircuitModel model, NetworkKind kind, Chance chance)
    {
        var fitting = chance.Whole(0, model.Fittings.Length - 1);
        var watts = model.Fittings[fitting].RatedWatts;
        var volts = model.Driver.RatedVolts!.Value;
        var run = chance.Whole(0, model.Runs.Length - 1);
        var node = chance.OneIn(6) ? CircuitModel.DriverNode : chance.Of(model.Runs[run].From, model.Runs[run].To);
        // In ohms by what the whole circuit is.
        var ohms = volts / model.Driver.MostAmps.GetValueOrDefault(1);
        return kind switch
        {
            NetworkKind.CoresShorted => [new CoresBridged(node, chance.OneIn(3) ? chance.Log(0.001, 0.1) * ohms : 0)],
            NetworkKind.CoresLeaking => [new CoresBridged(node, chance.Log(1, 1000) * ohms)],
            NetworkKind.FittingShorted => [new FittingBypassed(fitting, 0)],
            NetworkKind.FittingBypassedByDiode => [new FittingBypassed(fitting, chance.Between(0.3, 0.9))],
            NetworkKind.FittingOpen => [new FittingOpen(fitting)],
            NetworkKind.RunOpen or NetworkKind.RunOpenInRing => [new RunOpen(chance.OneIn(6) ? -1 : run)],
            NetworkKind.JointWithResistance or NetworkKind.JointInRing =>
                [new RunJointOhms(chance.OneIn(6) ? -1 : run, chance.Log(0.001, 0.2) * ohms)],
            NetworkKind.OtherWattage => [new FittingHasWatts(fitting, chance.Between(0.2, 2) * watts)],
            NetworkKind.OtherDriverVolts => [new DriverGives(chance.Between(0.7, 1.5) * volts)],
            NetworkKind.OtherArea => [new RunHasArea(chance.OneIn(3) ? -1 : run, chance.Of(Areas))],
            NetworkKind.OtherLength => [new RunLengthFactor(chance.OneIn(3) ? -1 : run, chance.Log(0.2, 2))],
            NetworkKind.SupplyReversed => [new SupplyReversed()],
            NetworkKind.MadeForConstantCurrent => [new FittingForOtherDrive(fitting, chance.Between(0.4, 1.2) * volts)],
            NetworkKind.OneFittingMore =>
                [new FittingAdded(chance.OneIn(2) ? null : node, chance.Between(0.5, 1.5) * watts)],
            NetworkKind.NoOutput => [new DriverDead()],
            NetworkKind.SeveralFaults =>
            [
                new CoresBridged(node, chance.Log(5, 1000) * ohms),
                new RunJointOhms(run, chance.Log(0.001, 0.05) * ohms),
                new FittingOpen(fitting),
                new RunLengthFactor(-1, chance.Between(0.5, 1.2)),
                new DriverGives(chance.Between(0.9, 1.1) * volts),
            ],
            _ => [],
        };
    }
}
