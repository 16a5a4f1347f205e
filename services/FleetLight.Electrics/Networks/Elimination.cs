namespace FleetLight.Electrics;

/// <summary>
/// The order in which the nodes of a network are eliminated, and where the connections between their neighbours are
/// kept. Found once per network; any set of conductances is then solved by the same steps.
/// </summary>
/// <remarks>
/// Nodes with the fewest neighbours go first. A tree then takes one step per node without any new connection, and each
/// ring adds a few: time and space grow with the number of nodes as long as the rings are few. Node 0 is kept to the
/// end.
/// </remarks>
internal sealed class Elimination
{
    private readonly List<int> ends = [];
    private readonly List<int> next = [];
    private readonly int[] heads;
    private readonly int[] degrees;
    private readonly bool[] gone;
    private readonly List<int> neighbours = [];
    private readonly List<int> slots = [];
    private readonly List<int> pairs = [];

    private Elimination(int nodes)
    {
        heads = new int[nodes];
        Array.Fill(heads, -1);
        degrees = new int[nodes];
        gone = new bool[nodes];
        Order = new int[Math.Max(0, nodes - 1)];
        Starts = new int[Order.Length + 1];
        PairStarts = new int[Order.Length + 1];
    }

    /// <summary>The nodes in the order in which they are eliminated.</summary>
    public int[] Order { get; }

    /// <summary>
    /// Where each step's neighbours begin in <see cref="Neighbours"/> and <see cref="NeighbourSlots"/>.
    /// </summary>
    public int[] Starts { get; }

    /// <summary>The nodes that are left and connected to the eliminated one, step by step.</summary>
    public int[] Neighbours { get; private set; } = [];

    /// <summary>The slot of the connection to each of them.</summary>
    public int[] NeighbourSlots { get; private set; } = [];

    /// <summary>Where each step's pairs begin in <see cref="Pairs"/>.</summary>
    public int[] PairStarts { get; }

    /// <summary>The slots of the connections between a step's neighbours: 0–1, 0–2, 1–2, 0–3 and so on.</summary>
    public int[] Pairs { get; private set; } = [];

    /// <summary>The slot of each branch; −1 for one that leads from a node to itself.</summary>
    public int[] BranchSlots { get; private set; } = [];

    /// <summary>How many slots there are.</summary>
    public int Slots => ends.Count / 2;

    /// <summary>
    /// Finds the order; null where the branches interlace so much that the steps would exceed the limit.
    /// </summary>
    /// <param name="nodes">Number of nodes.</param>
    /// <param name="branches">The nodes that each branch connects.</param>
    /// <param name="mostPairs">Greatest number of pairs of neighbours in all steps together.</param>
    public static Elimination? TryFind(int nodes, ReadOnlySpan<(int A, int B)> branches, int mostPairs)
    {
        var found = new Elimination(nodes) { BranchSlots = new int[branches.Length] };
        for (var i = 0; i < branches.Length; i++)
        {
            var (a, b) = branches[i];
            found.BranchSlots[i] = a == b ? -1 : found.FindOrAdd(a, b);
        }

        if (!found.Run(mostPairs)) return null;
        found.Neighbours = [.. found.neighbours];
        found.NeighbourSlots = [.. found.slots];
        found.Pairs = [.. found.pairs];
        return found;
    }

    private bool Run(int mostPairs)
    {
        // Waiting nodes by their number of neighbours; an entry that is out of date is skipped.
        var waiting = new List<Stack<int>>();
        for (var n = heads.Length - 1; n > 0; n--) Wait(waiting, n);
        var least = 0;
        for (var step = 0; step < Order.Length; step++)
        {
            int node;
            while (true)
            {
                if (!waiting[least].TryPop(out node)) least++;
                else if (!gone[node] && degrees[node] == least) break;
            }

            Order[step] = node;
            gone[node] = true;
            var first = neighbours.Count;
            for (var half = heads[node]; half >= 0; half = next[half])
            {
                if (gone[ends[half]]) continue;
                neighbours.Add(ends[half]);
                slots.Add(half / 2);
                degrees[ends[half]]--;
            }

            for (var j = first + 1; j < neighbours.Count; j++)
                for (var i = first; i < j; i++) pairs.Add(FindOrAdd(neighbours[i], neighbours[j]));
            if (pairs.Count > mostPairs) return false;
            for (var i = first; i < neighbours.Count; i++)
            {
                Wait(waiting, neighbours[i]);
                least = Math.Min(least, degrees[neighbours[i]]);
            }

            Starts[step + 1] = neighbours.Count;
            PairStarts[step + 1] = pairs.Count;
        }

        return true;
    }

    private void Wait(List<Stack<int>> waiting, int node)
    {
        if (node == 0) return;
        while (waiting.Count <= degrees[node]) waiting.Add(new Stack<int>());
        waiting[degrees[node]].Push(node);
    }

    // The connection is looked for at the end with fewer neighbours, so that a hub costs nothing.
    private int FindOrAdd(int a, int b)
    {
        if (degrees[b] < degrees[a]) (a, b) = (b, a);
        var before = -1;
        for (var half = heads[a]; half >= 0; half = next[half])
        {
            if (ends[half] == b) return half / 2;
            if (!gone[ends[half]])
            {
                before = half;
                continue;
            }

            // What leads to an eliminated node is not looked at again.
            if (before < 0) heads[a] = next[half];
            else next[before] = next[half];
        }

        Link(a, b);
        Link(b, a);
        return (ends.Count / 2) - 1;
    }

    private void Link(int from, int to)
    {
        ends.Add(to);
        next.Add(heads[from]);
        heads[from] = ends.Count - 1;
        degrees[from]++;
    }
}
