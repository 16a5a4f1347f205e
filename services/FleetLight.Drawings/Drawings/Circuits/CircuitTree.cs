using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;

namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>What stands at a place of a circuit.</summary>
public enum PlaceKind
{
    /// <summary>The driver.</summary>
    Driver,

    /// <summary>A fitting.</summary>
    Fitting,

    /// <summary>A box, or any other place that is not a fitting.</summary>
    Box,
}

/// <summary>A place of a circuit, and the run by which it is reached from the driver.</summary>
public sealed class PlaceNode(string id, PlaceKind kind)
{
    private readonly List<PlaceNode> children = [];
    private readonly List<(string Place, RunInput Run)> closes = [];

    /// <summary>The place: <c>driver</c>, a fitting or a box.</summary>
    public string Id { get; } = id;

    /// <summary>What stands there.</summary>
    public PlaceKind Kind { get; } = kind;

    /// <summary>The place before it, towards the driver; none for the driver and for what no run reaches.</summary>
    public PlaceNode? Parent { get; private set; }

    /// <summary>The run from the place before it; none where none is recorded.</summary>
    public RunInput? Run { get; private set; }

    /// <summary>The places after it, the one with the longest way behind it first, else in the order of the runs.</summary>
    public IReadOnlyList<PlaceNode> Children => children;

    /// <summary>Runs from here to places that are reached another way: they close a ring.</summary>
    public IReadOnlyList<(string Place, RunInput Run)> Closes => closes;

    /// <summary>Number of places on the longest way from here on, this one with it.</summary>
    public int Depth { get; private set; } = 1;

    internal void Add(PlaceNode child, RunInput? run)
    {
        child.Parent = this;
        child.Run = run;
        children.Add(child);
    }

    internal void Close(string place, RunInput run) => closes.Add((place, run));

    internal void Settle()
    {
        Depth = 1 + children.Select(child => child.Depth).DefaultIfEmpty(0).Max();
        // A stable sort: of equal ones the order of the runs stays.
        var sorted = children.OrderByDescending(child => child.Depth).ToList();
        children.Clear();
        children.AddRange(sorted);
    }
}

/// <summary>The places of a circuit as a tree from its driver, in the order in which the current or the cable reaches them.</summary>
/// <param name="Roots">The driver, and then what no recorded run reaches from it.</param>
public sealed record CircuitTree(IReadOnlyList<PlaceNode> Roots)
{
    /// <summary>Every place once, each after the one before it.</summary>
    public IEnumerable<PlaceNode> Places
    {
        get
        {
            var open = new Stack<PlaceNode>(Roots.Reverse());
            while (open.TryPop(out var node))
            {
                yield return node;
                for (var i = node.Children.Count - 1; i >= 0; i--) open.Push(node.Children[i]);
            }
        }
    }

    /// <summary>The tree of a circuit.</summary>
    public static CircuitTree Of(CircuitInput circuit)
    {
        ArgumentNullException.ThrowIfNull(circuit);
        return new Growing(circuit).Grow();
    }

    private sealed class Growing
    {
        private readonly CircuitInput circuit;
        private readonly HashSet<string> fittings;
        private readonly Dictionary<string, List<RunInput>> runsAt = new(StringComparer.Ordinal);
        private readonly Dictionary<string, PlaceNode> reached = new(StringComparer.Ordinal);
        private readonly HashSet<RunInput> used = new(ReferenceEqualityComparer.Instance);
        private readonly List<PlaceNode> inOrder = [];

        public Growing(CircuitInput circuit)
        {
            this.circuit = circuit;
            fittings = circuit.Fittings.Select(fitting => fitting.FittingId).ToHashSet(StringComparer.Ordinal);
            foreach (var run in circuit.Runs)
            {
                At(run.From).Add(run);
                if (run.To != run.From) At(run.To).Add(run);
            }
        }

        public CircuitTree Grow()
        {
            var driver = Reach(CircuitParts.DriverPlace);
            List<PlaceNode> roots = [driver];
            if (circuit.Runs.Length == 0 && circuit.Drive == DriveKind.ConstantCurrent)
                Chain(driver);
            else
                Spread(driver);
            foreach (var place in circuit.Fittings.Select(fitting => fitting.FittingId).Concat(circuit.Runs.Select(run => run.From)))
            {
                if (reached.ContainsKey(place)) continue;
                var loose = Reach(place);
                roots.Add(loose);
                Spread(loose);
            }

            for (var i = inOrder.Count - 1; i >= 0; i--) inOrder[i].Settle();
            return new CircuitTree(roots);
        }

        // The order of the fittings is the order of the loop, also where no cable of it is recorded.
        private void Chain(PlaceNode last)
        {
            foreach (var fitting in circuit.Fittings)
            {
                if (reached.ContainsKey(fitting.FittingId)) continue;
                var next = Reach(fitting.FittingId);
                last.Add(next, null);
                last = next;
            }
        }

        // A loop is followed to its end, so that it stays one line. A feed spreads from the driver, so that each place stands
        // on the shortest way to it.
        private void Spread(PlaceNode root)
        {
            var deep = circuit.Drive == DriveKind.ConstantCurrent;
            var open = new LinkedList<PlaceNode>([root]);
            while (open.Count > 0)
            {
                var node = deep ? open.Last!.Value : open.First!.Value;
                var run = At(node.Id).Find(each => !used.Contains(each));
                if (run is null)
                {
                    if (deep) open.RemoveLast();
                    else open.RemoveFirst();
                    continue;
                }

                used.Add(run);
                var far = run.From == node.Id ? run.To : run.From;
                if (reached.ContainsKey(far))
                {
                    node.Close(far, run);
                    continue;
                }

                var next = Reach(far);
                node.Add(next, run);
                open.AddLast(next);
            }
        }

        private List<RunInput> At(string place)
        {
            if (!runsAt.TryGetValue(place, out var runs)) runsAt[place] = runs = [];
            return runs;
        }

        private PlaceNode Reach(string place)
        {
            var kind = place == CircuitParts.DriverPlace ? PlaceKind.Driver : fittings.Contains(place) ? PlaceKind.Fitting : PlaceKind.Box;
            var node = new PlaceNode(place, kind);
            reached[place] = node;
            inOrder.Add(node);
            return node;
        }
    }
}
