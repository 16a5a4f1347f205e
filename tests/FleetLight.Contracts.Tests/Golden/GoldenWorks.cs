using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Contracts.Tests.Golden;

/// <summary>Folds a whole history at once.</summary>
internal sealed class GoldenWorks : IWorks
{
    private readonly Dictionary<ThingRef, ThingFile> files = [];
    private readonly HashSet<(ThingRef From, ThingRef To)> links = [];
    private readonly List<ReadingEntry> readings = [];
    private readonly Dictionary<ThingRef, ThingView> views = [];

    public GoldenWorks(IReadOnlyCollection<RecordedFact> history)
    {
        var byKey = history.ToDictionary(fact => FactKey.Of(fact.Of), StringComparer.Ordinal);
        foreach (var fact in history)
        {
            foreach (var thing in ThingsOf(fact, byKey)) files[thing] = FileOf(thing).With(fact);
            links.UnionWith(Routing.Edges(fact.Data));
            if (ReadingEntry.Of(fact.Of, fact.Data) is { } reading) readings.Add(reading);
        }

        // Ducts look at the states of sites and cables.
        foreach (var thing in files.Keys.OrderBy(thing => thing.Kind is ThingKind.Duct)) Fold(thing);
    }

    public T View<T>(ThingKind kind, string id) where T : ThingView => (T)views[new(kind, id)];

    public CircuitView Circuit(string id) =>
        CircuitJudge.Judge(WorksFold.Basis(this, id), ReadingWindow.Of(readings.Where(reading => reading.CircuitId == id)));

    public Judging Judging => Judging.Default;

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

    private static IReadOnlyList<ThingRef> ThingsOf(RecordedFact fact, Dictionary<string, RecordedFact> byKey) => fact.Data switch
    {
        // A reading is kept beside the file of its circuit.
        ReadingTaken => [],
        FactCorrected correction => Routing.TouchesOfCorrection(
            byKey[EffectiveFacts.TargetOf(fact)].Data, EffectiveFacts.Replacement(correction)),
        var data => Routing.Touches(data),
    };

    private void Fold(ThingRef thing)
    {
        if (thing.Kind == ThingKind.Circuit) return;
        views[thing] = thing.Kind switch
        {
            ThingKind.Site => WorksFold.Site(this, thing.Id),
            ThingKind.Cable => WorksFold.Cable(this, thing.Id),
            ThingKind.Box => WorksFold.Box(this, thing.Id),
            _ => WorksFold.Duct(this, thing.Id),
        };
    }
}
