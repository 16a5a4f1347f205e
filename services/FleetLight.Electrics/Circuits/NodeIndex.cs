namespace FleetLight.Electrics;

/// <summary>The nodes that a circuit's runs name, numbered in the order of their naming; 0 is the driver.</summary>
internal sealed class NodeIndex
{
    private readonly Dictionary<string, int> numbers = new(StringComparer.Ordinal);
    private readonly List<string> names = [];
    private readonly List<int> heads = [];
    private readonly int[] next;
    private readonly int[] ends;

    public NodeIndex(CircuitModel model)
    {
        // Runs as linked lists per node: half-edge 2r leads from From to To, half-edge 2r+1 back.
        next = new int[2 * model.Runs.Length];
        ends = new int[2 * model.Runs.Length];
        Number(CircuitModel.DriverNode);
        for (var r = 0; r < model.Runs.Length; r++)
        {
            var from = Number(model.Runs[r].From);
            var to = Number(model.Runs[r].To);
            Link(2 * r, from, to);
            Link((2 * r) + 1, to, from);
        }
    }

    /// <summary>How many there are.</summary>
    public int Count => names.Count;

    /// <summary>Number of a node; −1 where no run names it.</summary>
    public int IndexOf(string? name) => name is not null && numbers.TryGetValue(name, out var at) ? at : -1;

    /// <summary>Name of a node.</summary>
    public string Name(int node) => names[node];

    /// <summary>The nodes that a run joins.</summary>
    public (int From, int To) Ends(int run) => (ends[(2 * run) + 1], ends[2 * run]);

    /// <summary>
    /// Walks the runs depth first from the driver, without recursion so that a long chain cannot overflow the stack.
    /// </summary>
    /// <param name="order">Receives the nodes in the order reached.</param>
    /// <param name="parents">Receives for each node the one it was reached from; −1 for the driver.</param>
    /// <param name="feeding">Receives for each node the run it was reached by; −1 for the driver.</param>
    /// <returns>How many nodes were reached.</returns>
    public int Preorder(int[] order, int[] parents, int[] feeding)
    {
        var seen = new bool[Count];
        var waiting = new Stack<(int Node, int Half)>();
        waiting.Push((0, -1));
        var count = 0;
        while (waiting.TryPop(out var at))
        {
            if (seen[at.Node]) continue;
            seen[at.Node] = true;
            order[count++] = at.Node;
            parents[at.Node] = at.Half < 0 ? -1 : ends[at.Half ^ 1];
            feeding[at.Node] = at.Half < 0 ? -1 : at.Half / 2;
            for (var half = heads[at.Node]; half >= 0; half = next[half])
                if (!seen[ends[half]]) waiting.Push((ends[half], half));
        }

        return count;
    }

    private int Number(string name)
    {
        if (numbers.TryGetValue(name, out var at)) return at;
        at = names.Count;
        numbers[name] = at;
        names.Add(name);
        heads.Add(-1);
        return at;
    }

    private void Link(int half, int from, int to)
    {
        ends[half] = to;
        next[half] = heads[from];
        heads[from] = half;
    }
}
