using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Cql;

/// <summary>Reads shapes written as well-known text, once their name and first bracket are read.</summary>
internal static class CqlShapes
{
    /// <summary>Makes shapes in longitude and latitude.</summary>
    public static readonly GeometryFactory Factory = new(new PrecisionModel(), 4326);

    /// <summary>The shape, or the numbers of a BBOX.</summary>
    public static object Read(CqlToken name, Func<List<double>> position, Func<bool> opens, Func<bool> comma, Action closes)
    {
        switch (name.Text.ToUpperInvariant())
        {
            case "BBOX":
                return Separated(() => position() is [var one] ? one : throw new CqlException("BBOX takes numbers with commas between them", name.At)).ToArray();
            case "POINT":
                {
                    var point = Factory.CreatePoint(At(position(), name));
                    closes();
                    return point;
                }
            case "LINESTRING":
                return Line(Separated(() => At(position(), name)), name);
            case "POLYGON":
                return Polygon(Rings(), name);
            case "MULTIPOINT":
                return Factory.CreateMultiPoint([.. Separated(Member).Select(Factory.CreatePoint)]);
            case "MULTILINESTRING":
                return Factory.CreateMultiLineString([.. Rings().Select(line => Line(line, name))]);
            case "MULTIPOLYGON":
                return Factory.CreateMultiPolygon([.. Separated(() => Nested(Rings)).Select(rings => Polygon(rings, name))]);
            default:
                throw new CqlException($"There is no shape {name.Text} here; POINT, LINESTRING, POLYGON, their MULTI forms and BBOX are taken", name.At);
        }

        List<T> Separated<T>(Func<T> one)
        {
            List<T> all = [one()];
            while (comma()) all.Add(one());
            closes();
            return all;
        }

        List<List<Coordinate>> Rings() => Separated(() => Nested(() => Separated(() => At(position(), name))));

        // A point of several may have brackets of its own.
        Coordinate Member()
        {
            var bracket = opens();
            var at = At(position(), name);
            if (bracket) closes();
            return at;
        }

        T Nested<T>(Func<T> within) => opens() ? within() : throw new CqlException($"Brackets are missing in {name.Text}", name.At);
    }

    private static LineString Line(List<Coordinate> positions, CqlToken name) => positions.Count >= 2
        ? Factory.CreateLineString([.. positions])
        : throw new CqlException("A line has two positions at least", name.At);

    private static Polygon Polygon(List<List<Coordinate>> rings, CqlToken name)
    {
        if (rings.Any(ring => ring.Count < 4 || !ring[0].Equals2D(ring[^1])))
            throw new CqlException("A ring of a polygon has four positions at least, the last like the first", name.At);
        return Factory.CreatePolygon(Factory.CreateLinearRing([.. rings[0]]), [.. rings.Skip(1).Select(ring => Factory.CreateLinearRing([.. ring]))]);
    }

    // Heights are read and left out: shapes are compared in the plane.
    private static Coordinate At(List<double> numbers, CqlToken name) => numbers.Count is 2 or 3
        ? new Coordinate(numbers[0], numbers[1])
        : throw new CqlException($"A position in {name.Text} has two numbers, or three with a height", name.At);
}
