using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;
using FleetLight.Record.Positions;

namespace FleetLight.Record.Sites;

/// <summary>Folds the facts of a site into its state.</summary>
public static class SiteFold
{
    private static readonly Disagreement<SiteOpened> Differs = new(("name", site => site.Name));

    /// <summary>The state of a site.</summary>
    /// <param name="file">Its file.</param>
    public static SiteView Fold(ThingFile file)
    {
        var history = ThingHistory.Of(file, []);
        var opened = history.All<SiteOpened>();
        Differs.AddTo(opened, history.Contradictions);
        if (opened.Count == 0) history.Waiting.Add("It waits for the fact that work on this site began.");
        var newest = opened.Count == 0 ? null : opened[^1].Data;
        return new SiteView
        {
            Id = file.Id,
            SiteId = file.Id,
            WaitingFor = history.Waiting,
            Contradictions = history.Contradictions,
            Findings = [],
            Facts = history.Lines(),
            Name = newest?.Name,
            Place = newest?.Place,
            Position = newest?.Position,
            ReferencePoints = ReferencePoints(history),
            DuctCalls = newest?.DuctCalls,
            OpenedAt = opened.Count == 0 ? null : opened[0].At,
        };
    }

    private static IReadOnlyList<ReferencePointView>? ReferencePoints(ThingHistory history)
    {
        var network = ReferenceNetwork.Of(history.All<ReferencePointRecorded>());
        return network.Points.Count == 0
            ? null
            :
            [
                .. network.Points.Values.OrderBy(point => point.Id, StringComparer.Ordinal).Select(point => new ReferencePointView
                {
                    PointId = point.Id,
                    Name = point.Recorded.Data.Name,
                    Description = point.Recorded.Data.Description,
                    Placement = PlaceFold.OfPoint(point, network),
                }),
            ];
    }
}
