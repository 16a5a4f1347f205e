using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;
using FleetLight.Service.Judgement;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Circuits;

/// <summary>The state of a circuit as it was: folded from what had happened, and was known, by then.</summary>
public sealed class CircuitHistory(NpgsqlDataSource database)
{
    /// <summary>The state with what had happened by one time and was known by another; none where the circuit was not known.</summary>
    public async Task<CircuitView?> AsOfAsync(
        string organisation, string id, DateTimeOffset? asOf, DateTimeOffset? knownBy, CancellationToken cancel)
    {
        var past = await OpenAsync(organisation, asOf, knownBy, cancel);
        return (await AsOfAsync(past, organisation, [id], asOf, knownBy, explains: true, cancel)).Select(each => each.View).FirstOrDefault();
    }

    /// <summary>The works as they were; circuits are judged by the settings in force today.</summary>
    public async Task<PastWorks> OpenAsync(string organisation, DateTimeOffset? asOf, DateTimeOffset? knownBy, CancellationToken cancel)
    {
        var rows = new StateRows(database, organisation);
        var judging = await JudgingEvents.InForceAsync(rows, cancel);
        return new PastWorks(new LinkRows(database, organisation), new FileSet(rows), judging, asOf, knownBy);
    }

    /// <summary>The states of circuits as they were, with their bases; those that were not known are left out.</summary>
    public async Task<List<(CircuitBasis Basis, CircuitView View)>> AsOfAsync(
        PastWorks past, string organisation, IReadOnlyList<string> ids, DateTimeOffset? asOf, DateTimeOffset? knownBy, bool explains,
        CancellationToken cancel)
    {
        CircuitBasis[] bases = await past.UntilWholeAsync(works => ids.Select(id => WorksFold.Basis(works, id)).ToArray(), cancel);
        var circuits = new List<(CircuitBasis, CircuitView)>(bases.Length);
        foreach (var basis in bases)
        {
            var file = past.WholeFileOf(new ThingRef(ThingKind.Circuit, basis.Id));
            var recent = await ReadingsAsync(organisation, basis.Id, file, asOf, knownBy, cancel);
            if (!IsKnown(basis.Id, file.AsOf(asOf, knownBy)) && recent.Window.Entries.Length == 0) continue;
            circuits.Add((basis, CircuitJudge.Judge(basis, recent.Window, explains: explains, history: recent.History)));
        }

        return circuits;
    }

    /// <summary>The cables that make the runs of a circuit, as they are recorded now.</summary>
    public Task<IReadOnlyList<RunCable>> RunCablesAsync(string organisation, string id, CancellationToken cancel)
    {
        var rows = new StateRows(database, organisation);
        var now = new PastWorks(new LinkRows(database, organisation), new FileSet(rows), Judging.Default, asOf: null, knownBy: null);
        return now.UntilWholeAsync(works => WorksFold.RunCables(works, id), cancel);
    }

    // The file may hold a fact about another circuit that a correction moved here later.
    private static bool IsKnown(string id, ThingFile then) => EffectiveFacts.Of(then).Facts.Any(fact =>
        Routing.Concerns(fact.Original.Data, ThingKind.Circuit, [id])
        || (fact.CountingData is { } data && Routing.Concerns(data, ThingKind.Circuit, [id])));

    // The table knows what counts today. A reading that was ever corrected stands in the file with its corrections, and the
    // file tells what counted of it then.
    private Task<RecentReadings> ReadingsAsync(
        string organisation, string id, ThingFile file, DateTimeOffset? asOf, DateTimeOffset? knownBy, CancellationToken cancel)
    {
        var corrected = file.Facts.Where(fact => fact.Data is ReadingTaken).Select(fact => FactKey.Of(fact.Of)).ToHashSet(StringComparer.Ordinal);
        ReadingEntry[] then =
        [
            .. EffectiveFacts.Of(file.AsOf(asOf, knownBy)).Facts.Where(fact => fact.Original.Data is ReadingTaken)
                .Select(ReadingEntry.Of).OfType<ReadingEntry>().Where(entry => entry.CircuitId == id),
        ];
        return ReadingRows.RecentAsync(database, organisation, id, countingOnly: false, asOf, knownBy, corrected, then, cancel);
    }
}

/// <summary>
/// The works as they were: every state is folded from the facts that had happened, and were known, by then. Circuits are
/// judged by the settings in force today.
/// </summary>
public sealed class PastWorks(LinkRows links, FileSet files, Judging judging, DateTimeOffset? asOf, DateTimeOffset? knownBy) : IWorks
{
    private readonly Dictionary<ThingRef, ThingView> views = [];

    /// <summary>Runs a fold until it misses nothing.</summary>
    public async Task<T> UntilWholeAsync<T>(Func<IWorks, T> fold, CancellationToken cancel)
    {
        T folded;
        do
        {
            views.Clear();
            folded = fold(this);
        }
        while (await links.FetchAsync(cancel) | await files.FetchAsync(cancel));
        return folded;
    }

    /// <summary>The file with all its facts.</summary>
    public ThingFile WholeFileOf(ThingRef thing) => files.Of(thing);

    /// <inheritdoc/>
    public Judging Judging => judging;

    /// <inheritdoc/>
    public ThingFile FileOf(ThingRef thing) => files.Of(thing).AsOf(asOf, knownBy);

    /// <inheritdoc/>
    public IReadOnlyCollection<ThingRef> Linked(LinkAsk ask) => links.Linked(ask);

    /// <inheritdoc/>
    public SiteView? SiteOf(string id) => ViewOf(new ThingRef(ThingKind.Site, id), () => WorksFold.Site(this, id));

    /// <inheritdoc/>
    public CableView? CableOf(string id) => ViewOf(new ThingRef(ThingKind.Cable, id), () => WorksFold.Cable(this, id));

    /// <inheritdoc/>
    public DuctView? DuctOf(string id) => ViewOf(new ThingRef(ThingKind.Duct, id), () => WorksFold.Duct(this, id));

    /// <inheritdoc/>
    public BoxView? BoxOf(string id) => ViewOf(new ThingRef(ThingKind.Box, id), () => WorksFold.Box(this, id));

    // A thing of which nothing was known then has no state, as in the store.
    private T? ViewOf<T>(ThingRef thing, Func<T> fold) where T : ThingView
    {
        if (views.TryGetValue(thing, out var known)) return (T)known;
        var view = fold();
        if (view.Facts.Count == 0) return null;
        views[thing] = view;
        return view;
    }
}
