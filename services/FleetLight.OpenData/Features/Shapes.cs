using FleetLight.Contracts.Facts;
using FleetLight.OpenData.Cql;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Features;

/// <summary>Makes shapes of recorded positions and routes. Heights are left out: shapes are in the plane.</summary>
public static class Shapes
{
    /// <summary>A point; none where there is no position.</summary>
    public static Point? Of(GeoPoint? position) => position is null ? null : CqlShapes.Factory.CreatePoint(At(position.Coordinates));

    /// <summary>A line; none where there is no route, or one without length.</summary>
    public static LineString? Of(GeoLine? route)
    {
        if (route is null) return null;
        var line = CqlShapes.Factory.CreateLineString([.. route.Coordinates.Select(At)]);
        return line.Length > 0 ? line : null;
    }

    /// <summary>Lines; none where there are none.</summary>
    public static MultiLineString? Of(IReadOnlyList<LineString> lines) => lines.Count == 0 ? null : CqlShapes.Factory.CreateMultiLineString([.. lines]);

    /// <summary>Points; none where there are none.</summary>
    public static MultiPoint? Of(IReadOnlyList<Point> points) => points.Count == 0 ? null : CqlShapes.Factory.CreateMultiPoint([.. points]);

    /// <summary>The middle of a line, along it.</summary>
    public static Point? MiddleOf(LineString? line)
    {
        if (line is null) return null;
        var left = line.Length / 2;
        for (var i = 1; i < line.NumPoints; i++)
        {
            var (from, to) = (line.GetCoordinateN(i - 1), line.GetCoordinateN(i));
            var length = from.Distance(to);
            if (length >= left && length > 0)
            {
                var part = left / length;
                return CqlShapes.Factory.CreatePoint(new Coordinate(from.X + (part * (to.X - from.X)), from.Y + (part * (to.Y - from.Y))));
            }

            left -= length;
        }

        return line.EndPoint;
    }

    /// <summary>The height of a position in m, where it has one.</summary>
    public static double? HeightOf(GeoPoint? position) => position?.Coordinates is [_, _, var height] ? height : null;

    private static Coordinate At(double[] position) => new(position[0], position[1]);
}
