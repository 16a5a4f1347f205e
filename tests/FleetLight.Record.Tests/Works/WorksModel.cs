using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Record.Tests.Works;

/// <summary>
/// The service's way of a fact in memory: files, links and windows and histories that grow by batches, and states folded again for
/// what each batch reaches. The reference for the laws of convergence.
/// </summary>
internal sealed class WorksModel : IWorks
{
    private readonly Dictionary<string, RecordedFact> facts = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<RecordedFact>> corrections = new(StringComparer.Ordinal);
    private readonly Dictionary<ThingRef, ThingFile> files = [];
    private readonly HashSet<(ThingRef From, ThingRef To)> links = [];
    private readonly Dictionary<string, ReadingEntry> readings = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ReadingWindow> windows = new(StringComparer.Ordinal);
    private readonly Dictionary<string, ReadingHistory> histories = new(StringComparer.Ordinal);
    private readonly Dictionary<ThingRef, ThingView> views = [];
    private readonly Dictionary<string, CircuitBasis> bases = new(StringComparer.Ordinal);
    private readonly Dictionary<string, List<IAlertEvent>> alerts = new(StringComparer.Ordinal);

    public IReadOnlyDictionary<string, List<IAlertEvent>> AlertEvents => alerts;

    public int Folded { get; private set; }

    public Judging Judging { get; set; } = Judging.Default;

    public IReadOnlyDictionary<ThingRef, ThingView> Views => views;

    public IEnumerable<Finding> Findings => views.Values.SelectMany(view => view.Findings);

    public IEnumerable<ThingFile> Files => files.Values;

    public CircuitView Circuit(string id) => (CircuitView)views[new(ThingKind.Circuit, id)];

    public CircuitBasis BasisOf(string id) => bases[id];

    public T View<T>(string id)
        where T : ThingView => views.Where(pair => pair.Key.Id == id).Select(pair => pair.Value).OfType<T>().Single();

    public void Take(params RecordedFact[] batch)
    {
        var changed = new HashSet<ThingRef>();
        var read = new HashSet<string>(StringComparer.Ordinal);
        foreach (var fact in batch)
        {
            // A resent fact is looked up before it is kept.
            if (!facts.TryAdd(FactKey.Of(fact.Of), fact)) continue;
            if (fact.Data is FactCorrected) TakeCorrection(fact, changed, read);
            else TakeFact(fact, changed, read);
        }

        FoldAgain(changed, read);
    }

    private void TakeFact(RecordedFact fact, HashSet<ThingRef> changed, HashSet<string> read)
    {
        var known = corrections.GetValueOrDefault(FactKey.Of(fact.Of)) ?? [];
        if (fact.Data is ReadingTaken) PutReading(fact, known, read);
        else Put(fact, Routing.Touches(fact.Data), fact.Data, changed);
        PutCorrected(fact, known, changed);
    }

    private void TakeCorrection(RecordedFact correction, HashSet<ThingRef> changed, HashSet<string> read)
    {
        var key = EffectiveFacts.TargetOf(correction);
        if (!corrections.TryGetValue(key, out var known)) corrections[key] = known = [];
        known.Add(correction);
        if (!facts.TryGetValue(key, out var target)) return;
        if (target.Data is ReadingTaken) PutReading(target, known, read);
        PutCorrected(target, known, changed);
    }

    // A reading is kept beside the files until it is corrected: then it stands in files with its corrections, to be
    // seen.
    private void PutCorrected(RecordedFact target, List<RecordedFact> known, HashSet<ThingRef> changed)
    {
        if (known.Count == 0) return;
        IFact[] replacements = [.. known.Select(one => EffectiveFacts.Replacement((FactCorrected)one.Data)).OfType<IFact>()];
        var things = Routing.TouchesOfCorrections(target.Data, replacements);
        foreach (var fact in known.Prepend(target)) Put(fact, things, null, changed);
        foreach (var replacement in replacements) links.UnionWith(Routing.Edges(replacement));
    }

    private void Put(RecordedFact fact, IReadOnlyList<ThingRef> things, IFact? edgesOf, HashSet<ThingRef> changed)
    {
        foreach (var thing in things)
        {
            files[thing] = FileOf(thing).With(fact);
            changed.Add(thing);
        }

        if (edgesOf is not null) links.UnionWith(Routing.Edges(edgesOf));
    }

    private void PutReading(RecordedFact fact, List<RecordedFact> known, HashSet<string> read)
    {
        read.UnionWith(Routing.Touches(fact.Data).Select(thing => thing.Id));
        var key = FactKey.Of(fact.Of);
        if (readings.Remove(key, out var before))
        {
            windows[before.CircuitId] = WindowOf(before.CircuitId).Without(key);
            if (windows[before.CircuitId].NeedsRefill)
                windows[before.CircuitId] = windows[before.CircuitId].Refill(Counting(before.CircuitId).Take(ReadingWindow.Size + 1));
            histories[before.CircuitId] = ReadingHistory.Of(Counting(before.CircuitId));
        }

        if (ReadingEntry.Of(EffectiveFacts.Apply(fact, known, [])) is not { } entry) return;
        readings[key] = entry;
        windows[entry.CircuitId] = WindowOf(entry.CircuitId).With(entry);
        histories[entry.CircuitId] = HistoryOf(entry.CircuitId).With(entry);
        read.Add(entry.CircuitId);
    }

    private IEnumerable<ReadingEntry> Counting(string circuit) => readings.Values
        .Where(entry => entry.CircuitId == circuit)
        .OrderDescending(ReadingEntry.InOrder);

    private ReadingWindow WindowOf(string circuit) => windows.GetValueOrDefault(circuit) ?? ReadingWindow.Empty;

    private ReadingHistory HistoryOf(string circuit) => histories.GetValueOrDefault(circuit) ?? ReadingHistory.Empty;

    private void FoldAgain(HashSet<ThingRef> changed, HashSet<string> read)
    {
        var reach = new Reach(changed);
        while (reach.Asks.Count > 0) reach.Answer([.. reach.Asks.Select(ask => (ask, Linked(ask)))]);
        foreach (var thing in reach.Things.Where(thing => thing.Kind != ThingKind.Duct)) Show(thing, Fold(thing));
        foreach (var thing in reach.Things.Where(thing => thing.Kind == ThingKind.Duct)) Show(thing, Fold(thing));
        foreach (var id in reach.CircuitIds) bases[id] = Kept(WorksFold.Basis(this, id));
        foreach (var id in reach.CircuitIds.Union(read))
        {
            if (!bases.TryGetValue(id, out var basis)) bases[id] = basis = Kept(WorksFold.Basis(this, id));
            Show(new(ThingKind.Circuit, id), CircuitJudge.Judge(basis, Kept(WindowOf(id)), history: Kept(HistoryOf(id))));
        }
    }

    // Bases, windows and histories are kept as documents between facts.
    private static T Kept<T>(T document) =>
        JsonSerializer.Deserialize<T>(JsonSerializer.Serialize(document, WireJson.Lenient), WireJson.Lenient)!;

    private ThingView Fold(ThingRef thing) => thing.Kind switch
    {
        ThingKind.Site => WorksFold.Site(this, thing.Id),
        ThingKind.Cable => WorksFold.Cable(this, thing.Id),
        ThingKind.Box => WorksFold.Box(this, thing.Id),
        _ => WorksFold.Duct(this, thing.Id),
    };

    private void Show(ThingRef thing, ThingView view)
    {
        Folded++;
        var before = views.GetValueOrDefault(thing)?.Findings ?? [];
        views[thing] = view;
        foreach (var happened in AlertDecider.Decide("tenant", view.SiteId ?? "", before, view.Findings, Crew.Start))
        {
            if (!alerts.TryGetValue(happened.AlertId, out var events)) alerts[happened.AlertId] = events = [];
            events.Add(happened);
        }
    }

    /// <summary>
    /// Everything that is shown, as JSON; the history of alerts depends on arrival, what stands of them does not.
    /// </summary>
    public string Json()
    {
        var shown = views.OrderBy(pair => pair.Key.Kind).ThenBy(pair => pair.Key.Id, StringComparer.Ordinal)
            .Select(pair => JsonSerializer.Serialize(pair.Value, pair.Value.GetType(), WireJson.Lenient));
        var lines = bases.OrderBy(pair => pair.Key, StringComparer.Ordinal)
            .Select(pair => JsonSerializer.Serialize(CircuitLines.Of(pair.Value, Circuit(pair.Key)), WireJson.Lenient));
        var kept = bases.OrderBy(pair => pair.Key, StringComparer.Ordinal)
            .Select(pair => JsonSerializer.Serialize(pair.Value, WireJson.Lenient));
        var read = windows.OrderBy(pair => pair.Key, StringComparer.Ordinal).Where(pair => pair.Value.Entries.Length > 0)
            .Select(pair => JsonSerializer.Serialize(pair.Value, WireJson.Lenient));
        var over = histories.OrderBy(pair => pair.Key, StringComparer.Ordinal).Where(pair => pair.Value.Entries.Length > 0)
            .Select(pair => JsonSerializer.Serialize(pair.Value, WireJson.Lenient));
        return string.Join('\n', [.. shown, .. lines, .. kept, .. read, .. over, .. Standing()]);
    }

    public IEnumerable<string> Standing() => alerts.Values
        .Select(events => AlertFold.Fold(events)!)
        .Where(alert => alert.Standing != AlertStanding.Cleared)
        .Select(alert => JsonSerializer.Serialize(alert.Finding, WireJson.Lenient))
        .Order(StringComparer.Ordinal);

    public ThingFile FileOf(ThingRef thing) => files.GetValueOrDefault(thing) ?? ThingFile.Empty(thing.Kind, thing.Id);

    public IReadOnlyCollection<ThingRef> Linked(LinkAsk ask) =>
    [
        .. links.Where(link => (ask.Backwards ? link.To : link.From) == ask.Thing)
            .Select(link => ask.Backwards ? link.From : link.To)
            .Where(other => other.Kind == ask.Kind),
    ];

    public SiteView? SiteOf(string id) => views.GetValueOrDefault(new(ThingKind.Site, id)) as SiteView;

    public CableView? CableOf(string id) => views.GetValueOrDefault(new(ThingKind.Cable, id)) as CableView;

    public DuctView? DuctOf(string id) => views.GetValueOrDefault(new(ThingKind.Duct, id)) as DuctView;

    public BoxView? BoxOf(string id) => views.GetValueOrDefault(new(ThingKind.Box, id)) as BoxView;
}
