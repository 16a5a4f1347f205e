using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;
using FleetLight.Record.Files;

namespace FleetLight.Record.Positions;

/// <summary>
/// The reference points of a site, adjusted: points that are taped with one another together, so that what is not known of them is
/// correlated as it truly is. Pure; the same for any order of arrival.
/// </summary>
/// <remarks>
/// <para>A group of points that are taped with one another is known in degrees where one of them has a position; else in the site's own plane
/// where one has local coordinates; else in a plane of the group's own: its first two taped points (by their ids) give the origin and the
/// direction to the right.</para>
/// <para>The newest fact of a point counts. At most <see cref="MostPoints"/> are looked at, those recorded first, so that the work is
/// bounded.</para>
/// </remarks>
public sealed class ReferenceNetwork
{
    /// <summary>Most reference points of a site, a count.</summary>
    public const int MostPoints = 120;

    private readonly List<double[,]> covariances = [];
    private readonly Dictionary<string, ReferencePoint> points = new(StringComparer.Ordinal);

    private ReferenceNetwork()
    {
    }

    /// <summary>A site without reference points.</summary>
    public static ReferenceNetwork Empty { get; } = new();

    /// <summary>The points by their ids.</summary>
    public IReadOnlyDictionary<string, ReferencePoint> Points => points;

    /// <summary>The reference points of a site's file.</summary>
    public static ReferenceNetwork Of(ThingFile site) => Of(ThingHistory.Of(site, []).All<ReferencePointRecorded>());

    /// <summary>The reference points of facts that count, oldest first.</summary>
    public static ReferenceNetwork Of(IReadOnlyList<Counted<ReferencePointRecorded>> recorded)
    {
        ArgumentNullException.ThrowIfNull(recorded);
        if (recorded.Count == 0) return Empty;
        var newest = new Dictionary<string, Counted<ReferencePointRecorded>>(StringComparer.Ordinal);
        foreach (var fact in recorded)
            if (newest.Count < MostPoints || newest.ContainsKey(fact.Data.PointId)) newest[fact.Data.PointId] = fact with { Data = SoundGround.Sound(fact.Data) };
        var network = new ReferenceNetwork();
        var earth = TangentPlane.Around(newest.Values.Select(fact => fact.Data.Position).OfType<GeoPoint>());
        foreach (var group in Groups(newest))
        {
            var set = new NetworkGroup(group, newest, earth, network.covariances.Count);
            var (adjusted, covariance) = set.Adjusted();
            foreach (var point in adjusted) network.points[point.Id] = point;
            network.covariances.Add(covariance);
        }

        return network;
    }

    /// <summary>Covariance of points that have a place, X before Y, point by point, m².</summary>
    public double[,] Covariance(IReadOnlyList<ReferencePoint> of)
    {
        ArgumentNullException.ThrowIfNull(of);
        var covariance = new double[2 * of.Count, 2 * of.Count];
        for (var i = 0; i < of.Count; i++)
        {
            for (var j = 0; j < of.Count; j++)
            {
                if (of[i].Place.Group != of[j].Place.Group) continue;
                var whole = covariances[of[i].Place.Group];
                for (var a = 0; a < 2; a++)
                    for (var b = 0; b < 2; b++) covariance[(2 * i) + a, (2 * j) + b] = whole[(2 * of[i].Place.Number) + a, (2 * of[j].Place.Number) + b];
            }
        }

        return covariance;
    }

    /// <summary>The ids of the points that a fact measures from.</summary>
    internal static IEnumerable<string> MeasuredFrom(Tape[]? tapes, BaselineOffset? offset) =>
        (tapes ?? []).Select(tape => tape.From).Concat(offset is null ? [] : [offset.From, offset.To]);

    private static IEnumerable<List<string>> Groups(Dictionary<string, Counted<ReferencePointRecorded>> newest)
    {
        var of = newest.Keys.ToDictionary(id => id, id => id, StringComparer.Ordinal);
        foreach (var (id, fact) in newest)
            foreach (var from in MeasuredFrom(fact.Data.Tapes, fact.Data.Offset).Where(of.ContainsKey)) of[Root(id)] = Root(from);
        return newest.Keys.GroupBy(Root, StringComparer.Ordinal)
            .Select(group => group.Order(StringComparer.Ordinal).ToList())
            .OrderBy(group => group[0], StringComparer.Ordinal);

        string Root(string id)
        {
            while (of[id] != id) id = of[id];
            return id;
        }
    }
}
