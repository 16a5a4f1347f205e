using System.Collections.Immutable;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Circuits;

/// <summary>
/// The states of what a circuit leans on. More than it leans on does no harm: what no counting fact connects with the
/// circuit is passed over. Where an id was joined to another, the states of both are needed.
/// </summary>
/// <param name="Cables">Cables whose cores carry it or whose ids its design names.</param>
/// <param name="Ducts">The ducts that those cables pass.</param>
/// <param name="Boxes">Boxes that hold a joint of it or that its design names.</param>
public sealed record CircuitNeighbours(
    ImmutableArray<CableView> Cables, ImmutableArray<DuctView> Ducts, ImmutableArray<BoxView> Boxes)
{
    /// <summary>Nothing is known around the circuit.</summary>
    public static CircuitNeighbours None { get; } = new([], [], []);
}

/// <summary>Finds states by id, following ids that were joined to another.</summary>
internal sealed class ById<T>(IEnumerable<T> views)
    where T : ThingView
{
    private readonly Dictionary<string, T> byId = ToDictionary(views);

    /// <summary>The states that are not joined to another, by id.</summary>
    public IEnumerable<T> Kept => byId.Values.Where(view => view.SameAs is null).OrderBy(
        view => view.Id,
        StringComparer.Ordinal);

    /// <summary>Ids that mean another, with the one that stays.</summary>
    public IEnumerable<(string Id, string Kept)> Aliases => byId.Values
        .Where(view => view.SameAs is not null)
        .Select(view => (view.Id, view.SameAs!))
        .OrderBy(pair => pair.Id, StringComparer.Ordinal);

    /// <summary>The id that stays for that id.</summary>
    public string Resolve(string id) => byId.TryGetValue(id, out var view) ? view.SameAs ?? id : id;

    /// <summary>The state of the thing with that id or of the one that stays for it.</summary>
    public T? Find(string id) => byId.GetValueOrDefault(Resolve(id));

    private static Dictionary<string, T> ToDictionary(IEnumerable<T> views)
    {
        var byId = new Dictionary<string, T>(StringComparer.Ordinal);
        foreach (var view in views) byId[view.Id] = view;
        return byId;
    }
}
