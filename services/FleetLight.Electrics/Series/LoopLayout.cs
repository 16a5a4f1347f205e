using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Where the parts of a series loop stand. Two-core cable makes a tree from the driver: the loop goes out in one core
/// and back in the other, and each fitting sits in one core at its own node. Positions number the nodes so that
/// everything beyond a node follows it without a gap; 0 is the driver.
/// </summary>
/// <remarks>
/// Where the runs do not tell (none, not all connected, a ring, a fitting that no run leads to), the fittings are taken
/// to stand one beyond the other in the loop's order, with the cable spread evenly among them; nothing is predicted at
/// boxes.
/// </remarks>
internal sealed class LoopLayout
{
    private readonly Dictionary<string, int> positions = new(StringComparer.Ordinal);
    private readonly bool[] tells;

    private LoopLayout(CircuitModel model)
    {
        Unknown(model);
        var nodes = new NodeIndex(model);
        if (model.Runs.Length == 0 || nodes.Count != model.Runs.Length + 1)
        {
            tells = [];
            return;
        }

        // As many runs as nodes beyond the driver: a tree if all are reached.
        var parents = new int[nodes.Count];
        var order = new int[nodes.Count];
        var feeding = new int[nodes.Count];
        var position = new int[nodes.Count];
        IsKnown = nodes.Preorder(order, parents, feeding) == nodes.Count
            && model.Fittings.All(fitting => nodes.IndexOf(fitting.Id) >= 0);
        if (!IsKnown)
        {
            tells = [];
            return;
        }

        positions.Clear();
        End = new int[order.Length];
        Parent = new int[order.Length];
        Name = [.. order.Select(nodes.Name)];
        tells = new bool[order.Length];
        for (var at = 0; at < order.Length; at++)
        {
            positions[nodes.Name(order[at])] = at;
            position[order[at]] = at;
            if (at > 0) RunPosition[feeding[order[at]]] = at;
            End[at] = at + 1;
            tells[at] = true;
        }

        for (var at = order.Length - 1; at > 0; at--)
        {
            var up = Parent[at] = position[parents[order[at]]];
            End[up] = Math.Max(End[up], End[at]);
            tells[up] &= tells[at] && model.Runs[feeding[order[at]]].ConductorsInLoop == 2;
        }

        for (var i = 0; i < model.Fittings.Length; i++) FittingPosition[i] = positions[model.Fittings[i].Id];
    }

    /// <summary>Whether the runs tell where everything is.</summary>
    public bool IsKnown { get; }

    /// <summary>How many positions there are.</summary>
    public int Count => End.Length;

    /// <summary>Position of each fitting's node.</summary>
    public int[] FittingPosition { get; private set; } = [];

    /// <summary>Position of the node that each run leads to; −1 where that is not known.</summary>
    public int[] RunPosition { get; private set; } = [];

    /// <summary>For each position the first one after it that is not beyond it.</summary>
    public int[] End { get; private set; } = [];

    /// <summary>For each position the one that feeds it; empty where the runs do not tell.</summary>
    public int[] Parent { get; private set; } = [];

    /// <summary>Name of the node at each position; empty where the runs do not tell.</summary>
    public ImmutableArray<string> Name { get; private set; } = [];

    public static LoopLayout Of(CircuitModel model) => new(model);

    /// <summary>Position of a node; −1 where it is not known.</summary>
    public int PositionOf(string? name) => name is not null && positions.TryGetValue(name, out var at) ? at : -1;

    /// <summary>Whether the volts between the cores at a position follow from the runs.</summary>
    public bool Tells(int position) => IsKnown && position >= 0 && position < tells.Length && tells[position];

    /// <summary>The places whose readings may be predicted.</summary>
    public ImmutableArray<string> Places(CircuitModel model)
    {
        var fittings = model.Fittings.Select(fitting => fitting.Id);
        var boxes = positions.Where(one => one.Value > 0 && Tells(one.Value)).Select(one => one.Key);
        return [.. fittings.Prepend(CircuitModel.DriverNode).Concat(boxes).Distinct(StringComparer.Ordinal)];
    }

    private void Unknown(CircuitModel model)
    {
        var count = model.Fittings.Length;
        FittingPosition = new int[count];
        RunPosition = new int[model.Runs.Length];
        Array.Fill(RunPosition, -1);
        End = new int[count + 1];
        Array.Fill(End, count + 1);
        positions[CircuitModel.DriverNode] = 0;
        for (var i = 0; i < count; i++) positions[model.Fittings[i].Id] = FittingPosition[i] = i + 1;
    }
}
