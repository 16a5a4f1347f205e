using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Works;

/// <summary>The states of things; those of circuits are worked out when they are asked for and remembered.</summary>
internal sealed class MemoryStates
{
    private readonly Dictionary<ThingRef, ThingView> views = [];
    private readonly HashSet<string> circuits = new(StringComparer.Ordinal);
    private readonly Dictionary<string, CircuitBasis> bases = new(StringComparer.Ordinal);
    private readonly Dictionary<string, CircuitView> lines = new(StringComparer.Ordinal);
    private readonly Dictionary<string, CircuitView> explained = new(StringComparer.Ordinal);

    public IEnumerable<ThingRef> Things => views.Keys.Concat(circuits.Select(id => new ThingRef(ThingKind.Circuit, id)));

    public bool Has(ThingRef thing) => thing.Kind == ThingKind.Circuit ? circuits.Contains(thing.Id) : views.ContainsKey(thing);

    public ThingView? Of(ThingRef thing) => views.GetValueOrDefault(thing);

    public void Put(ThingRef thing, ThingView view) => views[thing] = view;

    public void Forget(string circuit)
    {
        circuits.Add(circuit);
        bases.Remove(circuit);
        lines.Remove(circuit);
        explained.Remove(circuit);
    }

    public void Clear()
    {
        views.Clear();
        circuits.Clear();
        ForgetCircuits();
    }

    public void ForgetCircuits()
    {
        bases.Clear();
        lines.Clear();
        explained.Clear();
    }

    public CircuitBasis BasisOf(string id, Func<string, CircuitBasis> fold)
    {
        if (!bases.TryGetValue(id, out var basis)) bases[id] = basis = fold(id);
        return basis;
    }

    public bool KnowsLineOf(string id) => lines.ContainsKey(id);

    /// <summary>
    /// Remembers the line of a circuit once its steps are gone through, unless something changed it meanwhile.
    /// </summary>
    public IEnumerable<CircuitView?> Remembering(string id, CircuitBasis basis, IEnumerable<CircuitView?> steps)
    {
        foreach (var step in steps)
        {
            if (step is not null && ReferenceEquals(basis, bases.GetValueOrDefault(id))) lines[id] = step;
            yield return step;
        }
    }

    public CircuitView? CircuitOf(string id, bool explained, Func<string, bool, CircuitView> judge)
    {
        if (!circuits.Contains(id)) return null;
        var known = explained ? this.explained : lines;
        if (!known.TryGetValue(id, out var view)) known[id] = view = judge(id, explained);
        return view;
    }
}
