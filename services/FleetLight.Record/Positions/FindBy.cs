using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Positions;

/// <summary>From which reference points a thing is found by tape, and at what distances. Pure.</summary>
internal static class FindBy
{
    /// <summary>
    /// A distance is told only where with 95 % it is no further off than this, m: a hole of one metre around it finds the thing (a choice of
    /// ours).
    /// </summary>
    public const double MostHalfWidthMetres = 1;

    /// <summary>No distance can be told of a position whose 95 % radius is greater than this, m.</summary>
    public static double MostRadiusMetres { get; } = MostHalfWidthMetres * Confidence.Circle / Confidence.Line;

    private const int Most = 2;

    /// <summary>Whether distances can be told of a position at all.</summary>
    public static bool MayBeTold(GeoPoint position) => position.AccuracyMetres <= MostRadiusMetres;

    /// <summary>The nearest reference points whose distance is known well enough; none where there are none.</summary>
    public static IReadOnlyList<FindByView>? Of(SolvedPlace place, ReferenceNetwork network)
    {
        if (place is not { At: { } at, Spread: { } spread, Frame: { } frame }) return null;
        FindByView[] found =
        [
            .. network.Points.Values.Where(point => point.At is not null && point.Frame.Name == frame.Name)
                .Select(point => (Point: point, Distance: point.At!.Value.To(at)))
                .Where(each => each.Distance > 0.01)
                .OrderBy(each => each.Distance).ThenBy(each => each.Point.Id, StringComparer.Ordinal)
                .Take(8)
                .Select(each => new FindByView
                {
                    From = each.Point.Id,
                    Name = each.Point.Recorded.Data.Name,
                    DistanceMetres = Math.Round(each.Distance, 2),
                    AccuracyMetres = Math.Round(HalfWidth(at, spread, each.Point, place, network), 2),
                })
                .Where(each => each.AccuracyMetres <= MostHalfWidthMetres)
                .Take(Most),
        ];
        return found.Length == 0 ? null : found;
    }

    // The variance of a distance: of the point, of the reference point, and less what they have in common.
    private static double HalfWidth(PlanePoint at, PlaneSpread spread, ReferencePoint point, SolvedPlace place, ReferenceNetwork network)
    {
        var from = point.At!.Value;
        var distance = from.To(at);
        var (x, y) = ((at.X - from.X) / distance, (at.Y - from.Y) / distance);
        var own = network.Covariance([point]);
        var variance = (x * x * (spread.XX + own[0, 0])) + (2 * x * y * (spread.XY + own[0, 1])) + (y * y * (spread.YY + own[1, 1]));
        if (place.Leans is var (leans, following))
        {
            var together = network.Covariance([.. leans, point]);
            var last = 2 * leans.Count;
            for (var k = 0; k < last; k++)
            {
                var follows = (x * following[0, k]) + (y * following[1, k]);
                variance -= 2 * follows * ((together[k, last] * x) + (together[k, last + 1] * y));
            }
        }

        return Confidence.Line * Math.Sqrt(Math.Max(0, variance));
    }
}
