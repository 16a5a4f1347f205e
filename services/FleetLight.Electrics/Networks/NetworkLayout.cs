using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// A constant-voltage network as nodes and branches, radial, branched or with rings. Node 0 is the driver; node 1
/// stands behind what joint there may be at the driver, and all runs from the driver begin there; then come the nodes
/// that the runs name, and then the ends of the fittings' tails.
/// </summary>
internal sealed class NetworkLayout
{
    /// <summary>Branch 0 leads from the driver to node 1.</summary>
    public const int FirstRunBranch = 1;

    /// <summary>
    /// Greatest number of pairs of neighbours in the elimination beyond two per node: with more, rings are interlaced
    /// beyond anything that is built.
    /// </summary>
    private const int MostPairs = 1_000_000;

    private readonly NodeIndex nodes;

    private NetworkLayout(CircuitModel model, NodeIndex nodes)
    {
        this.nodes = nodes;
        var tails = model.Fittings.Count(fitting => fitting.Tail is not null);
        Count = nodes.Count + 1 + tails;
        Branches = new (int, int)[FirstRunBranch + model.Runs.Length + tails];
        TailFitting = new int[tails];
        FittingNode = new int[model.Fittings.Length];
        LoadNode = new int[model.Fittings.Length];
        Branches[0] = (0, 1);
        for (var r = 0; r < model.Runs.Length; r++)
        {
            var (from, to) = nodes.Ends(r);
            Branches[FirstRunBranch + r] = (from + 1, to + 1);
        }

        var tail = 0;
        for (var i = 0; i < model.Fittings.Length; i++)
        {
            LoadNode[i] = FittingNode[i] = nodes.IndexOf(model.Fittings[i].Id) + 1;
            if (model.Fittings[i].Tail is null) continue;
            LoadNode[i] = nodes.Count + 1 + tail;
            TailFitting[tail] = i;
            Branches[FirstRunBranch + model.Runs.Length + tail++] = (FittingNode[i], LoadNode[i]);
        }
    }

    /// <summary>Number of nodes.</summary>
    public int Count { get; }

    /// <summary>Number of nodes that have a name, the driver included.</summary>
    public int Named => nodes.Count;

    /// <summary>The nodes that each branch connects.</summary>
    public (int A, int B)[] Branches { get; }

    /// <summary>Whether any run closes a ring.</summary>
    public bool HasRings => Branches.Length >= Count;

    /// <summary>The fittings that have a tail, in the order of the last branches.</summary>
    public int[] TailFitting { get; }

    /// <summary>The node at which each fitting's run ends.</summary>
    public int[] FittingNode { get; }

    /// <summary>The node at which each fitting itself is.</summary>
    public int[] LoadNode { get; }

    /// <summary>How the network is solved.</summary>
    public Elimination Steps { get; private set; } = null!;

    /// <summary>Node of the n-th named one, the driver's is 0.</summary>
    public static int NodeOfNamed(int named) => named == 0 ? 0 : named + 1;

    /// <summary>Which named one a node is; −1 for one that has no name.</summary>
    public int NamedOfNode(int node) => node == 0 ? 0 : node >= 2 && node <= Named ? node - 1 : -1;

    /// <summary>Name of the n-th named node.</summary>
    public string Name(int named) => nodes.Name(named);

    /// <summary>Node by name; −1 where there is none.</summary>
    public int NodeOf(string? name) => nodes.IndexOf(name) is var named && named < 0 ? -1 : NodeOfNamed(named);

    /// <summary>Lays the model out, or says why it cannot be.</summary>
    public static NetworkLayout? TryLay(CircuitModel model, out CannotExpect? refusal)
    {
        var nodes = new NodeIndex(model);
        refusal = Unreached(model, nodes);
        if (refusal is not null) return null;
        var layout = new NetworkLayout(model, nodes);
        var steps = Elimination.TryFind(layout.Count, layout.Branches, MostPairs + (2 * layout.Count));
        if (steps is null)
            refusal = new CannotExpect(RefusalReason.OutOfRange, "More rings than can be worked out together.", "runs");
        else layout.Steps = steps;
        return steps is null ? null : layout;
    }

    /// <summary>The places whose readings may be predicted.</summary>
    public ImmutableArray<string> Places(CircuitModel model)
    {
        var fittings = model.Fittings.Select(fitting => fitting.Id);
        return [.. fittings.Prepend(CircuitModel.DriverNode)
            .Concat(Enumerable.Range(0, Named).Select(Name)).Distinct(StringComparer.Ordinal)];
    }

    private static CannotExpect? Unreached(CircuitModel model, NodeIndex nodes)
    {
        var parents = new int[nodes.Count];
        var order = new int[nodes.Count];
        if (nodes.Preorder(order, parents, new int[nodes.Count]) is var reached && reached < nodes.Count)
        {
            var seen = new bool[nodes.Count];
            for (var i = 0; i < reached; i++) seen[order[i]] = true;
            for (var r = 0; r < model.Runs.Length; r++)
            {
                if (seen[nodes.Ends(r).From]) continue;
                return new CannotExpect(
                    RefusalReason.NotConnected, "The run is not connected to the driver.", $"runs[{r}]");
            }
        }

        for (var i = 0; i < model.Fittings.Length; i++)
        {
            if (nodes.IndexOf(model.Fittings[i].Id) >= 0) continue;
            return new CannotExpect(
                RefusalReason.NotConnected, "No cable run leads to the fitting.", $"fittings[{i}].id");
        }

        return null;
    }
}
