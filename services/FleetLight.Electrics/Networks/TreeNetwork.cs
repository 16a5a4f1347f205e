using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// A radial network in an order in which every node comes after the one that feeds it. Position 0 is the driver.
/// </summary>
internal sealed class TreeNetwork
{
    private TreeNetwork(int count)
    {
        Names = new string[count];
        Parent = new int[count];
        Run = new int[count];
        Fitting = new int[count];
        Ohms = new double[count];
        Watts = new double[count];
    }

    private TreeNetwork(TreeNetwork original)
    {
        Names = original.Names;
        Parent = original.Parent;
        Run = original.Run;
        Fitting = original.Fitting;
        Ohms = [.. original.Ohms];
        Watts = [.. original.Watts];
    }

    /// <summary>Name of each node.</summary>
    public string[] Names { get; }

    /// <summary>Position of the node that feeds each node; −1 for the driver.</summary>
    public int[] Parent { get; }

    /// <summary>Index of the run that feeds each node; −1 for the driver.</summary>
    public int[] Run { get; }

    /// <summary>Index of the fitting at each node; −1 where there is none.</summary>
    public int[] Fitting { get; }

    /// <summary>Resistance of the run that feeds each node, out and back, Ω.</summary>
    public double[] Ohms { get; }

    /// <summary>Power taken at each node, W.</summary>
    public double[] Watts { get; }

    /// <summary>Number of nodes with the driver.</summary>
    public int Count => Names.Length;

    /// <summary>A copy whose resistances and powers can be changed; the layout is shared.</summary>
    public TreeNetwork Copy() => new(this);

    /// <summary>Position of a node by name; −1 where there is none.</summary>
    public int PositionOf(string? name) => name is null ? -1 : Array.IndexOf(Names, name);

    /// <summary>Current in the run that feeds each node, A, at given node voltages.</summary>
    public double[] RunAmps(double[] volts)
    {
        var result = new double[Count];
        for (var n = Count - 1; n > 0; n--)
        {
            result[n] += Watts[n] / volts[n];
            result[Parent[n]] += result[n];
        }

        return result;
    }

    /// <summary>Lays the model out as a tree, or says why it is none.</summary>
    public static TreeNetwork? TryBuild(CircuitModel model, out CannotExpect? refusal)
    {
        var runs = model.Runs.OrEmpty();
        var index = new Dictionary<string, int>(runs.Length + 1, StringComparer.Ordinal)
        {
            [CircuitModel.DriverNode] = 0,
        };
        // Runs as linked lists per node: half-edge 2r leads From→To, half-edge 2r+1 leads To→From.
        var next = new int[2 * runs.Length];
        var ends = new int[2 * runs.Length];
        var heads = new List<int>(runs.Length + 1) { -1 };
        for (var r = 0; r < runs.Length; r++)
        {
            var from = IndexOf(runs[r].From, index, heads);
            var to = IndexOf(runs[r].To, index, heads);
            Link(2 * r, from, to, next, ends, heads);
            Link((2 * r) + 1, to, from, next, ends, heads);
        }

        var network = new TreeNetwork(index.Count);
        var position = new int[index.Count];
        var reached = Spread(network, heads, next, ends, position, out var ringRun);
        refusal = ringRun >= 0 ? Ring(ringRun) : null;
        if (refusal is null && reached < index.Count) refusal = Unreached(runs, index, position);
        if (refusal is not null) return null;
        foreach (var (name, i) in index) network.Names[position[i] - 1] = name;
        return PlaceFittings(network, model, index, position, out refusal) ? network : null;
    }

    private static int IndexOf(string name, Dictionary<string, int> index, List<int> heads)
    {
        if (index.TryGetValue(name, out var at)) return at;
        at = index.Count;
        index[name] = at;
        heads.Add(-1);
        return at;
    }

    private static void Link(int half, int from, int to, int[] next, int[] ends, List<int> heads)
    {
        ends[half] = to;
        next[half] = heads[from];
        heads[from] = half;
    }

    // Breadth first from the driver, without recursion so that a long chain cannot overflow the stack. position[] holds
    // one more than the place in the order, so that zero means not reached.
    private static int Spread(
        TreeNetwork network, List<int> heads, int[] next, int[] ends, int[] position, out int ringRun)
    {
        ringRun = -1;
        var queue = new int[position.Length];
        network.Parent[0] = network.Run[0] = -1;
        position[0] = 1;
        var count = 1;
        for (var done = 0; done < count; done++)
        {
            for (var half = heads[queue[done]]; half >= 0; half = next[half])
            {
                if (half / 2 == network.Run[done]) continue;
                var node = ends[half];
                if (position[node] != 0)
                {
                    ringRun = half / 2;
                    return count;
                }

                network.Parent[count] = done;
                network.Run[count] = half / 2;
                queue[count++] = node;
                position[node] = count;
            }
        }

        return count;
    }

    private static bool PlaceFittings(
        TreeNetwork network, CircuitModel model, Dictionary<string, int> index, int[] position,
        out CannotExpect? refusal)
    {
        refusal = null;
        Array.Fill(network.Fitting, -1);
        for (var i = 0; i < model.Fittings.Length; i++)
        {
            if (!index.TryGetValue(model.Fittings[i].Id, out var node))
            {
                refusal = new CannotExpect(
                    RefusalReason.NotConnected, "No cable run leads to the fitting.", $"fittings[{i}].id");
                return false;
            }

            network.Fitting[position[node] - 1] = i;
            network.Watts[position[node] - 1] = model.Fittings[i].RatedWatts;
        }

        return true;
    }

    private static CannotExpect Ring(int run) => new(
        RefusalReason.RingNotSupported,
        "The run closes a ring; this version works out radial and branched circuits only.",
        $"runs[{run}]");

    private static CannotExpect Unreached(
        ImmutableArray<RunModel> runs, Dictionary<string, int> index, int[] position)
    {
        for (var r = 0; r < runs.Length; r++)
        {
            if (position[index[runs[r].From]] != 0) continue;
            return new CannotExpect(
                RefusalReason.NotConnected, "The run is not connected to the driver.", $"runs[{r}]");
        }

        return new CannotExpect(RefusalReason.NotConnected, "A run is not connected to the driver.", "runs");
    }
}
