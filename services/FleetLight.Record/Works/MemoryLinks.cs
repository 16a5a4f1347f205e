using FleetLight.Contracts.Views;

namespace FleetLight.Record.Works;

/// <summary>Who leans on whom, found from either end.</summary>
internal sealed class MemoryLinks
{
    private readonly Dictionary<ThingRef, HashSet<ThingRef>> forwards = [];
    private readonly Dictionary<ThingRef, HashSet<ThingRef>> backwards = [];

    public void Add(IEnumerable<(ThingRef From, ThingRef To)> edges)
    {
        foreach (var (from, to) in edges)
        {
            Add(forwards, from, to);
            Add(backwards, to, from);
        }
    }

    public void Clear()
    {
        forwards.Clear();
        backwards.Clear();
    }

    public IReadOnlyCollection<ThingRef> Of(LinkAsk ask) =>
        (ask.Backwards ? backwards : forwards).TryGetValue(ask.Thing, out var others)
            ? [.. others.Where(other => other.Kind == ask.Kind)]
            : [];

    private static void Add(Dictionary<ThingRef, HashSet<ThingRef>> links, ThingRef at, ThingRef other)
    {
        if (!links.TryGetValue(at, out var others)) links[at] = others = [];
        others.Add(other);
    }
}
