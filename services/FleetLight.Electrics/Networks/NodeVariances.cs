namespace FleetLight.Electrics;

/// <summary>
/// Variance of every node's voltage by many independent currents: drawn at nodes, or put in between the ends of
/// branches. In time that grows with the steps of the elimination.
/// </summary>
/// <remarks>
/// One solution per current would be needed to follow each. But for A the matrix of the node equations and B the same
/// matrix made of the variances in place of the conductances, A⁻¹BA⁻¹ is the derivative −d(A + εB)⁻¹/dε. Its diagonal
/// follows by differentiating the elimination and then the selected inverse (Takahashi, Fagan and Chin 1973): only
/// entries between nodes that are neighbours at some step are needed.
/// </remarks>
internal sealed class NodeVariances
{
    private readonly Elimination steps;
    private readonly Conductances eliminated;
    private readonly double[] between;
    private readonly double[] shunt;

    /// <param name="steps">The steps of the elimination.</param>
    /// <param name="eliminated">The conductances after it.</param>
    public NodeVariances(Elimination steps, Conductances eliminated)
    {
        this.steps = steps;
        this.eliminated = eliminated;
        between = new double[eliminated.Between.Length];
        shunt = new double[eliminated.Shunt.Length];
    }

    /// <summary>Adds an independent current drawn at a node, by its variance, A².</summary>
    public void AddAt(int node, double variance) => shunt[node] += variance;

    /// <summary>Adds an independent current taken from one end of a branch and put in at the other, A².</summary>
    public void AddAcross(int branch, double variance)
    {
        if (steps.BranchSlots[branch] >= 0) between[steps.BranchSlots[branch]] += variance;
    }

    /// <summary>The variance of each node's voltage, V².</summary>
    public double[] Solve()
    {
        var byPivot = new double[steps.Order.Length];
        Differentiate(byPivot);
        return Invert(byPivot);
    }

    // As the elimination, with the change of each conductance beside it.
    private void Differentiate(double[] byPivot)
    {
        for (var step = 0; step < steps.Order.Length; step++)
        {
            var node = steps.Order[step];
            int first = steps.Starts[step], end = steps.Starts[step + 1];
            var inverse = eliminated.Inverse(step);
            var change = shunt[node];
            for (var i = first; i < end; i++) change += between[steps.NeighbourSlots[i]];
            byPivot[step] = change;
            var pair = steps.PairStarts[step];
            for (var j = first; j < end; j++)
            {
                var slot = steps.NeighbourSlots[j];
                var share = eliminated.Between[slot] * inverse;
                var byShare = (between[slot] - (share * change)) * inverse;
                shunt[steps.Neighbours[j]] += (byShare * eliminated.Shunt[node]) + (share * shunt[node]);
                for (var i = first; i < j; i++)
                {
                    var other = steps.NeighbourSlots[i];
                    between[steps.Pairs[pair++]] += (byShare * eliminated.Between[other]) + (share * between[other]);
                }
            }
        }
    }

    // The inverse between neighbours, from the last node to the first, with its change; the driver's row is zero.
    private double[] Invert(double[] byPivot)
    {
        var off = new double[between.Length];
        var offChange = new double[between.Length];
        var own = new double[shunt.Length];
        var ownChange = new double[shunt.Length];
        for (var step = steps.Order.Length - 1; step >= 0; step--)
        {
            var node = steps.Order[step];
            int first = steps.Starts[step], end = steps.Starts[step + 1];
            var inverse = eliminated.Inverse(step);
            double sum = inverse, sumChange = -byPivot[step] * inverse * inverse;
            for (var j = first; j < end; j++)
            {
                double entry = 0, entryChange = 0;
                for (var k = first; k < end; k++)
                {
                    var (share, shareChange) = Share(steps.NeighbourSlots[k], inverse, byPivot[step]);
                    var pair = k == j ? -1 : PairSlot(step, j - first, k - first);
                    var at = pair < 0 ? own[steps.Neighbours[j]] : off[pair];
                    var change = pair < 0 ? ownChange[steps.Neighbours[j]] : offChange[pair];
                    entry += share * at;
                    entryChange += (shareChange * at) + (share * change);
                }

                var slot = steps.NeighbourSlots[j];
                // Nothing moves the driver's own voltage.
                if (steps.Neighbours[j] == 0) (entry, entryChange) = (0, 0);
                (off[slot], offChange[slot]) = (entry, entryChange);
                var (own1, own1Change) = Share(slot, inverse, byPivot[step]);
                sum += own1 * entry;
                sumChange += (own1Change * entry) + (own1 * entryChange);
            }

            (own[node], ownChange[node]) = (sum, sumChange);
        }

        // Rounding may leave a tiny remainder of either sign where nothing reaches a node.
        for (var n = 0; n < ownChange.Length; n++) ownChange[n] = n == 0 ? 0 : Math.Max(0, -ownChange[n]);
        return ownChange;
    }

    private (double Share, double Change) Share(int slot, double inverse, double byPivot)
    {
        var share = eliminated.Between[slot] * inverse;
        return (share, (between[slot] - (share * byPivot)) * inverse);
    }

    private int PairSlot(int step, int one, int other)
    {
        var (low, high) = one < other ? (one, other) : (other, one);
        return steps.Pairs[steps.PairStarts[step] + (high * (high - 1) / 2) + low];
    }
}
