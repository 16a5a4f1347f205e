using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Positions;

/// <summary>The measured places in a thing's history.</summary>
internal static class HistoryPlaces
{
    /// <summary>The place that counts, of what was said along with other facts and of what was measured by itself.</summary>
    /// <param name="history">The history; takes what disagrees.</param>
    /// <param name="along">What other facts say, in their order.</param>
    /// <param name="means">Which facts of measuring mean it.</param>
    /// <param name="networkOf">The reference points of a site.</param>
    public static BestPlace PlaceOf(
        this ThingHistory history, IEnumerable<MeasuredPlace?> along, Func<PlaceMeasured, bool> means, Func<string, ReferenceNetwork>? networkOf)
    {
        MeasuredPlace[] measured =
        [
            .. along.OfType<MeasuredPlace>(),
            .. history.All<PlaceMeasured>().Where(place => means(place.Data)).Select(MeasuredPlace.Of).Where(place => place.SaysWhere),
        ];
        return PlaceFold.Of([.. measured.OrderBy(place => place.At)], networkOf ?? (_ => ReferenceNetwork.Empty), history.Contradictions);
    }

    /// <summary>The measured points of a duct or cable, from the near end to the far end; none where none was measured.</summary>
    public static IReadOnlyList<RunPointView>? RunPoints(this ThingHistory history, Func<string, ReferenceNetwork>? networkOf)
    {
        var points = history.All<PlaceMeasured>();
        if (points.Count == 0) return null;
        return
        [
            .. points.Select(point => (point.Data.End, point.Data.ChainageMetres)).Distinct()
                .OrderBy(key => key.End == RunEnd.Near ? 0 : key.End is null ? 1 : 2).ThenBy(key => key.ChainageMetres)
                .Select(key =>
                {
                    var place = history.PlaceOf(
                        [], data => data.End == key.End && data.ChainageMetres == key.ChainageMetres, networkOf);
                    return place.Placement is { } placement ? View(key, placement, place.Placements) : Bare(points, key);
                }),
        ];
    }

    // Measured by positions of which nobody said how they were found.
    private static RunPointView Bare(List<Counted<PlaceMeasured>> points, (RunEnd? End, double? Chainage) key)
    {
        var newest = points.FindLast(point => point.Data.End == key.End && point.Data.ChainageMetres == key.Chainage)!;
        return View(
            key,
            new PlacementView { Fact = newest.Key, MeasuredAt = newest.At, Standing = PlacementStanding.Placed, Position = newest.Data.Position },
            null);
    }

    private static RunPointView View((RunEnd? End, double? Chainage) key, PlacementView placement, IReadOnlyList<PlacementView>? placements) =>
        new() { End = key.End, ChainageMetres = key.Chainage, Placement = placement, Placements = placements };
}
