namespace FleetLight.Electrics;

/// <summary>How a constant-voltage driver holds its output.</summary>
internal enum NetworkHold
{
    /// <summary>It gives its voltage.</summary>
    Volts,

    /// <summary>At its greatest current: its voltage sags.</summary>
    Amps,

    /// <summary>At its greatest power: its voltage sags.</summary>
    Watts,

    /// <summary>It gives nothing.</summary>
    Nothing,
}

/// <summary>Finds the voltages of a network.</summary>
/// <remarks>
/// Newton's method on the node equations. Started from the no-load voltage it falls monotonically to the highest
/// solution where there is one: constant-power loads, strings and shunts are convex, and the Jacobian is an M-matrix
/// above the solution (Ortega and Rheinboldt 1970, theorem 13.3.4). A pivot that is not positive proves that there is
/// none. The knee of a linear regulator is not convex but its current never falls with the voltage; steps are halved if
/// it should make them cycle.
/// </remarks>
internal sealed class NetworkSolver
{
    /// <summary>Branches of less than this, Ω, change nothing that could be told.</summary>
    public const double LeastOhms = 1e-9;

    private const int MostIterations = 100;
    private const int DampedFrom = 30;
    private const double Settled = 1e-13;

    // From here on a change that no longer shrinks is rounding.
    private const double NearlySettled = 1e-9;

    private readonly NetworkBuilt built;
    private readonly double[] recorded;
    private readonly double[] put;
    private readonly double[] next;
    private readonly bool[]? dead;

    public NetworkSolver(NetworkBuilt built)
    {
        this.built = built;
        var count = built.Layout.Count;
        Conductances = new Conductances(built.Layout.Steps, count);
        Volts = new double[count];
        put = new double[count];
        next = new double[count];
        recorded = new double[built.Layout.Steps.Slots];
        for (var b = 0; b < built.BranchOhms.Length; b++)
        {
            var slot = built.Layout.Steps.BranchSlots[b];
            if (slot >= 0) recorded[slot] += 1 / built.BranchOhms[b];
        }

        if (built.Cables.HasOpen || built.Cables.IsOpenAtDriver) dead = Dead();
    }

    /// <summary>Voltage at each node, V.</summary>
    public double[] Volts { get; }

    /// <summary>The linear behaviour at the voltages found.</summary>
    public Conductances Conductances { get; }

    /// <summary>Current out of the driver, A.</summary>
    public double DriverAmps { get; private set; }

    /// <summary>Newton steps taken, all solutions together.</summary>
    public int Iterations { get; private set; }

    /// <summary>Whether nothing reaches a node because a run is broken.</summary>
    public bool IsDead(int node) => dead is not null && dead[node];

    /// <summary>
    /// Current in a branch from its first to its second node, A; for branches that have a resistance.
    /// </summary>
    public double BranchAmps(int branch)
    {
        var (a, z) = built.Layout.Branches[branch];
        return (Volts[a] - Volts[z]) / built.BranchOhms[branch];
    }

    /// <summary>Solves the network at a driver voltage, from the voltages as if nothing drew current.</summary>
    public bool TrySolve(double driverVolts)
    {
        Array.Fill(Volts, driverVolts);
        return TryContinue(driverVolts);
    }

    /// <summary>Solves the network from the voltages at a higher driver voltage.</summary>
    public bool TryContinue(double driverVolts)
    {
        Volts[0] = driverVolts;
        var mayCycle = built.Loads.Any(load => load is { Kind: DrawKind.Current, IsOn: true });
        var before = double.MaxValue;
        for (var iteration = 0; iteration < MostIterations; iteration++)
        {
            Iterations++;
            if (!TryLinearize()) return false;
            Conductances.Solve(driverVolts, put, next);
            double change = 0;
            var damp = mayCycle && iteration >= DampedFrom ? 0.5 : 1;
            for (var n = 0; n < next.Length; n++)
            {
                var step = damp * (next[n] - Volts[n]);
                change = Math.Max(change, Math.Abs(step));
                Volts[n] = damp == 1 ? next[n] : Volts[n] + step;
            }

            if (!(change <= double.MaxValue)) return false;
            var isRounding = change <= NearlySettled * driverVolts && change > before / 2;
            before = change;
            if (change <= Settled * driverVolts || isRounding) return TryClose();
        }

        return false;
    }

    // Each load near voltage v draws i + slope·(V − v).
    private bool TryLinearize()
    {
        recorded.CopyTo(Conductances.Between, 0);
        Array.Clear(Conductances.Shunt);
        Array.Clear(put);
        foreach (ref readonly var load in built.Loads.AsSpan())
        {
            if (!load.IsOn || IsDead(load.Node)) continue;
            var volts = Volts[load.Node];
            if (load.Kind == DrawKind.Power && !(volts > 0)) return false;
            var amps = load.AmpsAt(volts, out var slope);
            Conductances.Shunt[load.Node] += slope;
            put[load.Node] -= amps - (slope * volts);
        }

        return Conductances.TryEliminate();
    }

    // Leaves the linear behaviour at the voltages found.
    private bool TryClose()
    {
        if (!TryLinearize()) return false;
        double amps = 0;
        foreach (ref readonly var load in built.Loads.AsSpan())
            if (load.IsOn && !IsDead(load.Node)) amps += load.AmpsAt(Volts[load.Node], out _);
        DriverAmps = amps;
        return true;
    }

    private bool[] Dead()
    {
        var count = built.Layout.Count;
        var heads = new int[count];
        Array.Fill(heads, -1);
        var links = new int[2 * built.BranchOhms.Length];
        for (var b = 0; b < built.BranchOhms.Length; b++)
        {
            if (double.IsInfinity(built.BranchOhms[b])) continue;
            var (a, z) = built.Layout.Branches[b];
            (links[2 * b], heads[a]) = (heads[a], 2 * b);
            (links[(2 * b) + 1], heads[z]) = (heads[z], (2 * b) + 1);
        }

        var result = new bool[count];
        Array.Fill(result, true);
        result[0] = false;
        var reached = new Stack<int>([0]);
        while (reached.TryPop(out var node))
        {
            for (var half = heads[node]; half >= 0; half = links[half])
            {
                var (a, z) = built.Layout.Branches[half / 2];
                var other = half % 2 == 0 ? z : a;
                if (!result[other]) continue;
                result[other] = false;
                reached.Push(other);
            }
        }

        return result;
    }
}
