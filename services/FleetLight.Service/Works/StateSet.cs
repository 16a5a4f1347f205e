using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;
using FleetLight.Record.Cables;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;
using FleetLight.Record.Sites;
using FleetLight.Service.Store;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>
/// Folds the files that changed, and those of the things that lean on them, into states: sites, then ducts, cables and
/// boxes. Circuits come after, in <see cref="CircuitDesk"/>.
/// </summary>
public sealed class StateSet(IDocumentOperations operations, LinkRows links, FileSet files, Emission emission)
{
    private readonly Dictionary<string, SiteView> sites = new(StringComparer.Ordinal);
    private readonly Dictionary<string, DuctView> ducts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, CableView> cables = new(StringComparer.Ordinal);
    private readonly Dictionary<string, BoxView> boxes = new(StringComparer.Ordinal);
    private readonly HashSet<(string From, string To)> met = [];

    /// <summary>The circuits to be judged again because of what was folded.</summary>
    public IReadOnlyList<string> Circuits { get; private set; } = [];

    /// <summary>Folds what these things' change touches.</summary>
    public async Task FoldAsync(IReadOnlyList<string> changed, CancellationToken cancel)
    {
        if (changed.Count == 0) return;
        var reached = (await links.ClosureAsync(changed, met, cancel)).Select(ThingKeys.Read).ToLookup(thing => thing.Kind);
        Circuits = [.. reached[ThingKind.Circuit].Select(thing => thing.Id).Order(StringComparer.Ordinal)];
        await files.LoadAsync(reached.SelectMany(group => group).Where(thing => thing.Kind != ThingKind.Circuit).Select(ThingKeys.Of), cancel);

        await FoldAsync<SiteDocument, SiteView>(reached[ThingKind.Site], sites, (file, _) => SiteFold.Fold(file),
            view => new SiteDocument { Id = view.Id, SiteId = view.SiteId, View = view }, cancel);
        await LoadSitesAsync(reached[ThingKind.Duct], cancel);
        await FoldAsync<DuctDocument, DuctView>(reached[ThingKind.Duct], ducts, FoldDuct,
            view => new DuctDocument { Id = view.Id, SiteId = view.SiteId, View = view }, cancel);
        await FoldAsync<CableDocument, CableView>(reached[ThingKind.Cable], cables, CableFold.Fold,
            view => new CableDocument { Id = view.Id, SiteId = view.SiteId, View = view }, cancel);
        await FoldAsync<BoxDocument, BoxView>(reached[ThingKind.Box], boxes, BoxFold.Fold,
            view => new BoxDocument { Id = view.Id, SiteId = view.SiteId, View = view }, cancel);
    }

    /// <summary>States of ducts, folded in this page or before.</summary>
    public Task<IReadOnlyList<DuctView>> DuctsAsync(IReadOnlyCollection<string> ids, CancellationToken cancel) =>
        AtHandAsync<DuctDocument, DuctView>(ids, ducts, cancel);

    /// <summary>States of cables, folded in this page or before.</summary>
    public Task<IReadOnlyList<CableView>> CablesAsync(IReadOnlyCollection<string> ids, CancellationToken cancel) =>
        AtHandAsync<CableDocument, CableView>(ids, cables, cancel);

    /// <summary>States of boxes, folded in this page or before.</summary>
    public Task<IReadOnlyList<BoxView>> BoxesAsync(IReadOnlyCollection<string> ids, CancellationToken cancel) =>
        AtHandAsync<BoxDocument, BoxView>(ids, boxes, cancel);

    private DuctView FoldDuct(ThingFile file, IReadOnlyList<ThingFile> same)
    {
        var view = DuctFold.Fold(file, same, null);
        return view.SiteId is { } id && sites.TryGetValue(id, out var site) ? DuctFold.Fold(file, same, site) : view;
    }

    private async Task FoldAsync<TDocument, TView>(
        IEnumerable<ThingRef> things, Dictionary<string, TView> into, Func<ThingFile, IReadOnlyList<ThingFile>, TView> fold,
        Func<TView, TDocument> wrap, CancellationToken cancel)
        where TDocument : StateDocument<TView>
        where TView : ThingView
    {
        var ids = things.Select(thing => thing.Id).Order(StringComparer.Ordinal).ToArray();
        if (ids.Length == 0) return;
        var before = (await operations.LoadManyAsync<TDocument>(cancel, ids)).ToDictionary(document => document.Id, StringComparer.Ordinal);
        var kind = things.First().Kind;
        foreach (var id in ids)
        {
            var view = fold(files[ThingKeys.Of(kind, id)], SameAs(kind, id));
            into[id] = view;
            var old = before.GetValueOrDefault(id);
            if (old is not null && Same.As(old.View, view)) continue;
            operations.Store(wrap(view));
            emission.Changed(kind, id, view.SiteId ?? old?.SiteId, old?.View.Findings ?? [], view.Findings, files.FactsOf(ThingKeys.Of(kind, id)));
        }
    }

    // Joinings lead both ways, so everything joined to a thing that is folded again is at hand with it.
    private List<ThingFile> SameAs(ThingKind kind, string id)
    {
        var start = ThingKeys.Of(kind, id);
        var group = new HashSet<string>(StringComparer.Ordinal) { start };
        var prefix = ThingKeys.NameOf(kind) + ":";
        for (var grown = true; grown;)
        {
            grown = false;
            foreach (var (from, to) in met)
            {
                if (group.Contains(from) && to.StartsWith(prefix, StringComparison.Ordinal)) grown |= group.Add(to);
            }
        }

        group.Remove(start);
        return [.. group.Order(StringComparer.Ordinal).Select(key => files[key])];
    }

    private async Task LoadSitesAsync(IEnumerable<ThingRef> ductsToFold, CancellationToken cancel)
    {
        var wanted = ductsToFold.SelectMany(duct => files[ThingKeys.Of(duct)].Facts).Select(fact => fact.Data.SiteId)
            .Distinct(StringComparer.Ordinal).Where(id => !sites.ContainsKey(id)).ToArray();
        if (wanted.Length == 0) return;
        foreach (var site in await operations.LoadManyAsync<SiteDocument>(cancel, wanted)) sites[site.Id] = site.View;
    }

    private async Task<IReadOnlyList<TView>> AtHandAsync<TDocument, TView>(
        IReadOnlyCollection<string> ids, Dictionary<string, TView> known, CancellationToken cancel)
        where TDocument : StateDocument<TView>
        where TView : ThingView
    {
        var missing = ids.Where(id => !known.ContainsKey(id)).Distinct(StringComparer.Ordinal).ToArray();
        if (missing.Length > 0)
        {
            foreach (var document in await operations.LoadManyAsync<TDocument>(cancel, missing)) known[document.Id] = document.View;
        }

        return [.. ids.Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).Where(known.ContainsKey).Select(id => known[id])];
    }
}
