namespace FleetLight.Electrics;

/// <summary>
/// Voltages of all nodes of a sound network with their first-order uncertainty, in time that grows with the number of
/// nodes: one linear solution for each thing that is common to many parts, and <see cref="NodeVariances"/> for what is
/// independent.
/// </summary>
internal sealed class NetworkProfile
{
    private readonly NetworkBuilt built;
    private readonly NetworkSolver solver;
    private readonly double[] byDriver;
    private readonly double[]? byConductor;
    private readonly double[]?[] byTemperature = new double[]?[Cable.TemperatureGroups];
    private readonly double[] byPower;
    private readonly double[] byLength;

    public NetworkProfile(NetworkBuilt built, NetworkSolver solver)
    {
        this.built = built;
        this.solver = solver;
        var count = built.Layout.Count;
        var steps = built.Layout.Steps;
        byDriver = new double[count];
        solver.Conductances.Solve(1, new double[count], byDriver);
        byConductor = Common((in Cable cable) => cable.ByConductor);
        for (var group = 0; group < byTemperature.Length; group++)
        {
            var own = group;
            byTemperature[group] = Common(
                (in Cable cable) => cable.TemperatureGroup == own ? cable.ByTemperature : 0);
        }

        var power = new NodeVariances(steps, solver.Conductances);
        foreach (ref readonly var load in built.Loads.AsSpan())
        {
            var part = load.IsOn ? load.ByOwn(solver.Volts[load.Node]) : 0;
            power.AddAt(load.Node, part * part);
        }

        byPower = power.Solve();
        var length = new NodeVariances(steps, solver.Conductances);
        for (var b = 0; b < built.BranchOhms.Length; b++)
        {
            var part = Relative(b, (in Cable cable) => cable.ByLength) * solver.BranchAmps(b);
            length.AddAcross(b, part * part);
        }

        byLength = length.Solve();
    }

    private delegate double CablePart(in Cable cable);

    /// <summary>Voltage at a node other than the driver.</summary>
    public Estimate Volts(int node)
    {
        var budget = new BudgetBuilder();
        budget.Rectangular(
            UncertaintySource.DriverOutput, byDriver[node] * built.DriverVolts * built.DriverRelative);
        budget.Normal(UncertaintySource.FittingPower, Math.Sqrt(byPower[node]));
        budget.Normal(UncertaintySource.CableLength, Math.Sqrt(byLength[node]));
        if (byConductor is not null)
            budget.Rectangular(UncertaintySource.ConductorResistance, byConductor[node]);
        foreach (var group in byTemperature)
            if (group is not null) budget.Normal(UncertaintySource.ConductorTemperature, group[node]);
        return budget.Close(solver.Volts[node]);
    }

    // Change of each node's voltage by something that acts on all cables at once; null where it acts on none.
    private double[]? Common(CablePart partOf)
    {
        var put = new double[built.Layout.Count];
        var any = false;
        for (var b = 0; b < built.BranchOhms.Length; b++)
        {
            // More resistance acts as a current from the far end back to the near one.
            var part = Relative(b, partOf) * solver.BranchAmps(b);
            if (part == 0) continue;
            any = true;
            var (a, z) = built.Layout.Branches[b];
            put[a] += part;
            put[z] -= part;
        }

        if (!any) return null;
        var change = new double[put.Length];
        solver.Conductances.Solve(0, put, change);
        return change;
    }

    private double Relative(int branch, CablePart partOf)
    {
        if (!(built.BranchOhms[branch] >= NetworkSolver.LeastOhms)) return 0;
        var (cable, _) = built.CableOf(branch);
        return partOf(cable) / built.BranchOhms[branch];
    }
}
