using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Sites;

namespace FleetLight.Record.OpenPoints;

/// <summary>
/// What is missing on a site before the crew leaves: what the rules find on its things, and what the record itself is short of.
/// Each point says which fact takes it off.
/// </summary>
public static class OpenPointList
{
    /// <summary>The points of a site.</summary>
    /// <param name="states">What is on the site.</param>
    /// <param name="phase">Only points of this phase and of those before it; all where none.</param>
    public static OpenPointsView Of(SiteStates states, WorkPhase? phase = null)
    {
        ArgumentNullException.ThrowIfNull(states);
        var points = new List<OpenPoint>();
        var ducts = ById(states.Ducts);
        var cables = ById(states.Cables);
        foreach (var duct in Kept(states.Ducts)) DuctPoints.Add(duct, duct.SiteId ?? states.SiteId, points);
        foreach (var cable in Kept(states.Cables)) CablePoints.Add(cable, cable.SiteId ?? states.SiteId, ducts, points);
        foreach (var box in Kept(states.Boxes)) BoxPoints.Add(box, box.SiteId ?? states.SiteId, points);
        foreach (var circuit in Kept(states.Circuits))
            CircuitPoints.Add(circuit, states.Designs.GetValueOrDefault(circuit.Id), circuit.SiteId ?? states.SiteId, points);
        return new OpenPointsView
        {
            SiteId = states.SiteId,
            Phase = phase,
            Points =
            [
                .. points.Where(point => phase is null || point.Phase <= phase)
                    .OrderBy(point => point.Place ?? point.Label, StringComparer.Ordinal)
                    .ThenBy(point => point.Phase)
                    .ThenByDescending(point => point.Severity)
                    .ThenBy(point => point.Key, StringComparer.Ordinal),
            ],
            Reminders = [.. Kept(cables.Values).Where(cable => cable.SpareCores > 0).Select(OfSpareCores)],
        };
    }

    private static Reminder OfSpareCores(CableView cable)
    {
        var spare = cable.Cores.Where(core => core.Use == CoreUse.Spare).Select(core => core.Core);
        return new(
            new(ThingKind.Cable, cable.Id), CablePoints.LabelOf(cable),
            $"Spare core{(cable.SpareCores == 1 ? "" : "s")} {string.Join(", ", spare)}: see that each is left long, insulated at its end and parked in the box.");
    }

    private static IEnumerable<T> Kept<T>(IEnumerable<T> views)
        where T : ThingView => views.Where(view => view.SameAs is null);

    // An id that was joined to another finds the state of the one that stays.
    private static Dictionary<string, T> ById<T>(IReadOnlyList<T> views)
        where T : ThingView
    {
        var own = new Dictionary<string, T>(StringComparer.Ordinal);
        foreach (var view in views) own[view.Id] = view;
        return own.ToDictionary(pair => pair.Key, pair => pair.Value.SameAs is { } kept && own.TryGetValue(kept, out var main) ? main : pair.Value);
    }
}
