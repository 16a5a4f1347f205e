using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>A network in the making: a tree of cable, then fittings, then their watts, then rings.</summary>
internal sealed class NetworkTree
{
    private readonly List<string> nodes = [CircuitModel.DriverNode];
    private readonly List<int> parents = [-1];
    private readonly List<double> ohms = [0];
    private readonly List<RunModel> runs = [];
    private readonly List<FittingModel> fittings = [];

    /// <summary>Lays cable to up to 40 nodes.</summary>
    /// <param name="chance">Chance.</param>
    /// <param name="assumptions">The assumptions.</param>
    /// <param name="volts">The driver's volts, V.</param>
    /// <param name="chain">Share of the nodes that hang on the one before.</param>
    /// <param name="fewest">How many nodes it has at least.</param>
    public NetworkTree(Chance chance, Assumptions assumptions, double volts, double chain, int fewest)
    {
        Volts = volts;
        var count = chance.Of(chance.Whole(fewest, 8), chance.Whole(5, 20), chance.Whole(20, 40));
        for (var n = 1; n <= count; n++)
        {
            var parent = chance.Between(0, 1) < chain ? n - 1 : chance.Whole(0, n - 1);
            var run = Run(chance, nodes[parent], $"n{n}");
            runs.Add(run);
            nodes.Add($"n{n}");
            parents.Add(parent);
            var found = new AsFound(Model([run]), assumptions, []);
            ohms.Add(2 * found.ConductorOhms(0));
        }
    }

    public double Volts { get; }

    /// <summary>Hangs fittings on most of the nodes, tails on some of them.</summary>
    public void AddFittings(Chance chance, LoadKind[] kinds)
    {
        for (var n = 1; n < nodes.Count; n++)
        {
            // The last node always has one, so that there is one.
            if (n < nodes.Count - 1 && chance.OneIn(4)) continue;
            fittings.Add(new FittingModel(nodes[n], chance.Of(1.0, 1.6, 2.5, 4.0))
            {
                Load = fittings.Count == 0 ? kinds[0] : chance.Of(kinds),
                Tail = chance.Tail(3),
            });
        }
    }

    /// <summary>Sets the watts so that the worst drop is about this share of the driver's volts.</summary>
    public void ScaleTo(double share)
    {
        var factor = share * Volts / Drops(null).Max();
        for (var i = 0; i < fittings.Count; i++)
            fittings[i] = fittings[i] with { RatedWatts = fittings[i].RatedWatts * factor };
    }

    /// <summary>Gives the fittings of constant power a least voltage that is well below what they get.</summary>
    public void GiveLeastVolts(Chance chance)
    {
        for (var i = 0; i < fittings.Count; i++)
            if (fittings[i].Load == LoadKind.ConstantPower)
                fittings[i] = fittings[i] with { LeastVolts = chance.Between(0.55, 0.75) * Volts };
    }

    /// <summary>Gives some fittings far out a least voltage that they miss even if they draw nothing.</summary>
    public void LetGoDark(Chance chance)
    {
        var drops = Drops(null);
        var far = Enumerable.Range(0, fittings.Count).OrderByDescending(i => drops[NodeOf(fittings[i])])
            .Take(chance.Whole(1, 3)).ToHashSet();
        var without = Drops(fitting => !far.Contains(fittings.IndexOf(fitting)));
        foreach (var i in far)
        {
            var missing = chance.Between(0.3, 0.6) * without[NodeOf(fittings[i])];
            fittings[i] = fittings[i] with { LeastVolts = Volts - missing };
        }
    }

    /// <summary>The rated current of the fittings of a kind, or of all, A.</summary>
    public double Amps(LoadKind? kind) =>
        fittings.Where(fitting => kind is null || fitting.Load == kind).Sum(fitting => fitting.RatedWatts) / Volts;

    /// <summary>The network with so many runs more, each of which closes a ring.</summary>
    public CircuitModel Model(int rings, Chance chance)
    {
        var all = runs.ToList();
        while (all.Count < runs.Count + rings)
        {
            var (a, b) = (chance.Whole(0, nodes.Count - 1), chance.Whole(0, nodes.Count - 1));
            if (a != b) all.Add(Run(chance, nodes[a], nodes[b]) with { Id = $"ring {all.Count}" });
        }

        return Model(all);
    }

    private static RunModel Run(Chance chance, string from, string to) =>
        chance.Run($"to {to}", from, to, chance.Between(2, 25), [1.5, 2.5, 4, 6, 10]);

    private CircuitModel Model(List<RunModel> all) =>
        new(DriveKind.ConstantVoltage, new DriverModel { RatedVolts = Volts }, [.. fittings], [.. all]);

    private int NodeOf(FittingModel fitting) => nodes.IndexOf(fitting.Id);

    // About how many volts are lost on the way to each node, with each fitting at its rated current.
    private double[] Drops(Func<FittingModel, bool>? isOn)
    {
        var amps = new double[nodes.Count];
        foreach (var fitting in fittings)
            if (isOn is null || isOn(fitting)) amps[NodeOf(fitting)] = fitting.RatedWatts / Volts;
        for (var n = nodes.Count - 1; n > 0; n--) amps[parents[n]] += amps[n];
        var drops = new double[nodes.Count];
        for (var n = 1; n < nodes.Count; n++) drops[n] = drops[parents[n]] + (amps[n] * ohms[n]);
        return drops;
    }
}
