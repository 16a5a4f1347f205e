namespace FleetLight.Electrics;

/// <summary>
/// What a fault in one core of a run does in a ring, where the run's other core is whole and goes on sharing the current.
/// </summary>
/// <remarks>
/// The two cores of every other run are alike, so the network splits into the voltage between the cores and the mean voltage
/// of both against the driver, which no fitting sees. Only the faulty run ties the two together, and the mean finds its way
/// back through the rest of the ring, with both cores side by side. With g₁ and g₂ the conductances of the run's cores and R
/// the resistance of that way back, the run acts between the cores like a branch of conductance
/// (g₁ + g₂)/4 − R(g₁ − g₂)²/4(1 + R(g₁ + g₂)). Without a way back that is both cores in series, as in a tree. Where
/// several runs have such a fault each is taken with the others whole, which is then close and not exact.
/// </remarks>
internal sealed class RingCores
{
    private RingCores(double ohms, double[]? byBranch) => (Ohms, ByBranch) = (ohms, byBranch);

    /// <summary>Resistance that the run has between the cores, Ω; infinite where it is cut.</summary>
    public double Ohms { get; }

    /// <summary>
    /// How that changes with the resistance of each branch, its own included, Ω for each Ω; null where its own is added to it
    /// and nothing else matters.
    /// </summary>
    public double[]? ByBranch { get; }

    /// <summary>A run with a fault in one core.</summary>
    /// <param name="layout">The network.</param>
    /// <param name="ohms">Resistance of each branch, out and back, without the fault, Ω.</param>
    /// <param name="branch">The branch of the run.</param>
    /// <param name="oneCore">What the fault adds to one core, Ω; infinite where it is broken.</param>
    public static RingCores Of(NetworkLayout layout, double[] ohms, int branch, double oneCore)
    {
        var byBranch = new double[ohms.Length];
        if (!layout.HasRings || !(WayBack(layout, ohms, branch, byBranch) is var back && double.IsFinite(back)))
            return new(ohms[branch] + oneCore, null);
        var whole = 2 / ohms[branch];
        var faulty = 1 / ((ohms[branch] / 2) + oneCore);
        var sum = whole + faulty;
        var difference = whole - faulty;
        var through = 1 + (back * sum);
        var siemens = (sum - (back * difference * difference / through)) / 4;

        // The derivatives of one over that, by the rules for products and quotients.
        var scale = 1 / (siemens * siemens);
        var byBack = difference * difference / (through * through) / 4 * scale;
        for (var b = 0; b < byBranch.Length; b++) byBranch[b] *= byBack;
        var bySum = (1 + (back * back * difference * difference / (through * through))) / 4;
        var byDifference = -back * difference / through / 2;
        var wholeByOhm = -whole / ohms[branch];
        var faultyByOhm = -faulty * faulty / 2;
        byBranch[branch] = -scale
            * ((bySum * (wholeByOhm + faultyByOhm)) + (byDifference * (wholeByOhm - faultyByOhm)));
        return new(1 / siemens, byBranch);
    }

    // Between the ends of the branch through everything else, both cores side by side: a quarter of out and back. How it
    // changes with each of the others is the square of the share of the current there, and again a quarter.
    private static double WayBack(NetworkLayout layout, double[] ohms, int branch, double[] byBranch)
    {
        var (a, z) = layout.Branches[branch];
        if (!IsJoined(layout, ohms, branch, a, z)) return double.PositiveInfinity;
        var mean = new Conductances(layout.Steps, layout.Count);
        for (var b = 0; b < ohms.Length; b++)
        {
            var slot = layout.Steps.BranchSlots[b];
            if (b != branch && slot >= 0) mean.Between[slot] += 4 / ohms[b];
        }

        if (!mean.TryEliminate()) return double.PositiveInfinity;
        var put = new double[layout.Count];
        put[a] += 1;
        put[z] -= 1;
        var volts = new double[layout.Count];
        mean.Solve(0, put, volts);
        for (var b = 0; b < ohms.Length; b++)
        {
            if (b == branch) continue;
            var share = (volts[layout.Branches[b].A] - volts[layout.Branches[b].B]) * 4 / ohms[b];
            byBranch[b] = share * share / 4;
        }

        return volts[a] - volts[z];
    }

    private static bool IsJoined(NetworkLayout layout, double[] ohms, int without, int a, int z)
    {
        var group = new int[layout.Count];
        for (var n = 0; n < group.Length; n++) group[n] = n;
        for (var b = 0; b < ohms.Length; b++)
        {
            if (b == without || double.IsInfinity(ohms[b])) continue;
            group[Root(layout.Branches[b].A)] = Root(layout.Branches[b].B);
        }

        return Root(a) == Root(z);

        int Root(int node)
        {
            while (group[node] != node) node = group[node] = group[group[node]];
            return node;
        }
    }
}
