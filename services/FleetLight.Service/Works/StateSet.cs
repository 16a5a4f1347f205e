using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;
using FleetLight.Record.Works;
using FleetLight.Service.Sites;

namespace FleetLight.Service.Works;

/// <summary>
/// The works as a page sees them: files, links and states, looked up as the folds of the core ask for them. A fold that
/// misses something is run again once that is at hand, so the core stays free of waiting.
/// </summary>
public sealed class StateSet(
    StateRows rows, LinkRows links, FileSet files, Emission emission, Judging? brought, WorksFolds folds, IReadOnlyDictionary<ThingRef, string> leftAlone) : IWorks
{
    private readonly Dictionary<ThingRef, ThingView?> views = [];
    private readonly HashSet<ThingRef> missing = [];
    private readonly HashSet<ThingRef> folded = [];

    /// <summary>The sites, ducts, cables and boxes that were folded.</summary>
    public IReadOnlyCollection<ThingRef> Folded => folded;

    /// <summary>Folds what the change of these things reaches; answers the circuits to be judged again.</summary>
    public async Task<IReadOnlyList<string>> FoldAsync(IReadOnlyCollection<ThingRef> changed, CancellationToken cancel)
    {
        if (changed.Count == 0) return [];
        var reach = new Reach(changed);
        while (reach.Asks.Count > 0)
        {
            await links.LookUpAsync(reach.Asks, cancel);
            reach.Answer([.. reach.Asks.Select(ask => (ask, links.Linked(ask)))]);
        }

        // What is folded anew, and what it was before, is brought to hand in one go.
        missing.UnionWith(reach.Things);
        await files.LoadAsync(reach.Things, cancel);
        await FetchAsync(cancel);
        var things = reach.Things.OrderBy(thing => thing.Kind).ThenBy(thing => thing.Id, StringComparer.Ordinal).ToLookup(thing => thing.Kind);
        await FoldAsync(things[ThingKind.Site], id => folds.Site(this, id), cancel);
        await FoldAsync(things[ThingKind.Cable], id => folds.Cable(this, id), cancel);
        await FoldAsync(things[ThingKind.Box], id => folds.Box(this, id), cancel);
        await FoldAsync(things[ThingKind.Duct], id => folds.Duct(this, id), cancel);
        return [.. reach.CircuitIds.Order(StringComparer.Ordinal)];
    }

    /// <summary>
    /// The bases of circuits. Only they rest on the settings of judging, so those are looked up here: the settings that the
    /// page brought, or else those in force.
    /// </summary>
    public async Task<Dictionary<string, CircuitBasis>> BasesAsync(IReadOnlyCollection<string> ids, CancellationToken cancel)
    {
        if (ids.Count == 0) return [];
        Judging = brought ?? await Judgement.JudgingEvents.InForceAsync(rows, cancel);
        return await UntilWholeAsync(ThingKind.Circuit, ids, id => folds.Basis(this, id), cancel);
    }

    /// <summary>Runs folds until none of them misses anything.</summary>
    private async Task<Dictionary<string, T>> UntilWholeAsync<T>(
        ThingKind kind, IReadOnlyCollection<string> ids, Func<string, T> fold, CancellationToken cancel)
    {
        Dictionary<string, T> folded;
        do
        {
            folded = ids.ToDictionary(id => id, id => FoldException.Naming(new ThingRef(kind, id), () => fold(id)), StringComparer.Ordinal);
        }
        while (await FetchAsync(cancel));
        return folded;
    }

    /// <inheritdoc/>
    public Judging Judging { get; private set; } = Judging.Default;

    /// <inheritdoc/>
    public ThingFile FileOf(ThingRef thing) => files.Of(thing);

    /// <inheritdoc/>
    public IReadOnlyCollection<ThingRef> Linked(LinkAsk ask) => links.Linked(ask);

    /// <inheritdoc/>
    public SiteView? SiteOf(string id) => ViewOf<SiteView>(ThingKind.Site, id);

    /// <inheritdoc/>
    public CableView? CableOf(string id) => ViewOf<CableView>(ThingKind.Cable, id);

    /// <inheritdoc/>
    public DuctView? DuctOf(string id) => ViewOf<DuctView>(ThingKind.Duct, id);

    /// <inheritdoc/>
    public BoxView? BoxOf(string id) => ViewOf<BoxView>(ThingKind.Box, id);

    private T? ViewOf<T>(ThingKind kind, string id) where T : ThingView
    {
        var thing = new ThingRef(kind, id);
        if (views.TryGetValue(thing, out var view)) return (T?)view;
        missing.Add(thing);
        return null;
    }

    private async Task FoldAsync<TView>(IEnumerable<ThingRef> reached, Func<string, TView> fold, CancellationToken cancel) where TView : ThingView
    {
        // What cannot be folded keeps the state that it had.
        ThingRef[] things = [.. reached.Where(thing => !leftAlone.ContainsKey(thing))];
        if (things.Length == 0) return;
        var fresh = await UntilWholeAsync(things[0].Kind, [.. things.Select(thing => thing.Id)], fold, cancel);
        foreach (var thing in things)
        {
            folded.Add(thing);
            var view = fresh[thing.Id];
            var before = views[thing];
            views[thing] = view;
            if (before is not null && Same.As((TView)before, view)) continue;
            rows.Keep(ThingKeys.NameOf(thing.Kind), thing.Id, view.SiteId, view, view is SiteView site ? SiteLines.Written(site) : null);
            emission.Changed(thing.Kind, thing.Id, view.SiteId ?? before?.SiteId, before?.Findings ?? [], view.Findings, files.FactsOf(thing));
        }
    }

    private async Task<bool> FetchAsync(CancellationToken cancel)
    {
        var any = await links.FetchAsync(cancel) | await files.FetchAsync(cancel);
        missing.ExceptWith(views.Keys);
        if (missing.Count == 0) return any;
        var wanted = missing.ToLookup(thing => thing.Kind, thing => thing.Id);
        missing.Clear();
        await FetchAsync<SiteView>(ThingKind.Site, wanted, cancel);
        await FetchAsync<CableView>(ThingKind.Cable, wanted, cancel);
        await FetchAsync<DuctView>(ThingKind.Duct, wanted, cancel);
        await FetchAsync<BoxView>(ThingKind.Box, wanted, cancel);
        return true;
    }

    private async Task FetchAsync<TView>(ThingKind kind, ILookup<ThingKind, string> wanted, CancellationToken cancel) where TView : ThingView
    {
        if (!wanted.Contains(kind)) return;
        foreach (var id in wanted[kind]) views[new ThingRef(kind, id)] = null;
        foreach (var (id, view) in await rows.LoadAsync<TView>(ThingKeys.NameOf(kind), wanted[kind], cancel)) views[new ThingRef(kind, id)] = view;
    }
}
