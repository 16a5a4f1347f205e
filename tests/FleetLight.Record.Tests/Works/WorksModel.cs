using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Alerts;
using FleetLight.Record.Circuits;
using FleetLight.Record.Works;

namespace FleetLight.Record.Tests.Works;

/// <summary>
/// The works in memory with the alerts that each batch raises and clears; what the service keeps as documents between facts
/// is written and read again. The reference for the laws of convergence.
/// </summary>
internal sealed class WorksModel
{
    private readonly Keeping works = new();
    private readonly Dictionary<ThingRef, ThingView> views = [];
    private readonly Dictionary<string, List<IAlertEvent>> alerts = new(StringComparer.Ordinal);

    public MemoryWorks InMemory => works;

    public Judging Judging
    {
        get => works.Judging;
        set => works.Judging = value;
    }

    public IReadOnlyDictionary<ThingRef, ThingView> Views => views;

    public IEnumerable<Finding> Findings => views.Values.SelectMany(view => view.Findings);

    public CircuitView Circuit(string id) => (CircuitView)views[new(ThingKind.Circuit, id)];

    public CircuitBasis BasisOf(string id) => works.BasisOf(id)!;

    public T View<T>(string id)
        where T : ThingView => views.Where(pair => pair.Key.Id == id).Select(pair => pair.Value).OfType<T>().Single();

    public void Take(params RecordedFact[] batch)
    {
        foreach (var thing in works.Take(batch))
            Show(thing, thing.Kind == ThingKind.Circuit ? works.CircuitOf(thing.Id)! : works.ViewOf(thing)!);
    }

    private void Show(ThingRef thing, ThingView view)
    {
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
        string[] circuits =
            [.. views.Keys.Where(thing => thing.Kind == ThingKind.Circuit).Select(thing => thing.Id).Order(StringComparer.Ordinal)];
        var shown = views.OrderBy(pair => pair.Key.Kind).ThenBy(pair => pair.Key.Id, StringComparer.Ordinal)
            .Select(pair => JsonSerializer.Serialize(pair.Value, pair.Value.GetType(), WireJson.Lenient));
        var lines = circuits.Select(id => Written(CircuitLines.Of(BasisOf(id), Circuit(id))));
        var kept = circuits.Select(id => Written(BasisOf(id)));
        var read = circuits.Select(works.WindowOf).Where(window => window.Entries.Length > 0).Select(Written);
        var over = circuits.Select(works.HistoryOf).Where(history => history.Entries.Length > 0).Select(Written);
        return string.Join('\n', [.. shown, .. lines, .. kept, .. read, .. over, .. Standing()]);
    }

    public IEnumerable<string> Standing() => alerts.Values
        .Select(events => AlertFold.Fold(events)!)
        .Where(alert => alert.Standing != AlertStanding.Cleared)
        .Select(alert => Written(alert.Finding))
        .Order(StringComparer.Ordinal);

    private static string Written<T>(T document) => JsonSerializer.Serialize(document, WireJson.Lenient);

    private sealed class Keeping : MemoryWorks
    {
        protected override T Kept<T>(T document) => JsonSerializer.Deserialize<T>(Written(document), WireJson.Lenient)!;
    }
}
