using System.Globalization;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Crs;

/// <summary>
/// A coordinate reference system in which shapes are given and asked for. Positions are recorded in WGS 84; systems of ETRS89 are
/// taken as the same, as is usual where nothing better than a metre was recorded.
/// </summary>
public sealed class CoordinateSystem
{
    private const double SemiMajorMetres = 6_378_137;

    // WGS 84 and GRS 1980 (EPSG:7030 and EPSG:7019).
    private const double InverseFlatteningWgs = 298.257223563;
    private const double InverseFlatteningGrs = 298.257222101;

    private readonly Func<double, double, (double X, double Y)> forward;
    private readonly Func<double, double, (double X, double Y)> backward;

    private CoordinateSystem(
        string uri, string name, bool isGeographic, Func<double, double, (double X, double Y)> forward, Func<double, double, (double X, double Y)> backward)
    {
        Uri = uri;
        Name = name;
        IsGeographic = isGeographic;
        this.forward = forward;
        this.backward = backward;
    }

    /// <summary>Longitude and latitude of WGS 84: what shapes are kept in, and given in where nothing else is asked for.</summary>
    public static CoordinateSystem Crs84 { get; } = new(
        "http://www.opengis.net/def/crs/OGC/1.3/CRS84", "WGS 84, longitude and latitude", true, (x, y) => (x, y), (x, y) => (x, y));

    /// <summary>All of them; the first is that of <see cref="Crs84"/>.</summary>
    public static IReadOnlyList<CoordinateSystem> All { get; } =
    [
        Crs84,
        new(Epsg(4326), "WGS 84, latitude and longitude", true, (x, y) => (y, x), (x, y) => (y, x)),
        new(Epsg(3857), "WGS 84 of web maps, metres", false, WebMercator.Forward, WebMercator.Backward),
        .. Enumerable.Range(1, 60).Select(zone => Utm(32600 + zone, zone, south: false, InverseFlatteningWgs, "WGS 84")),
        .. Enumerable.Range(1, 60).Select(zone => Utm(32700 + zone, zone, south: true, InverseFlatteningWgs, "WGS 84")),
        .. Enumerable.Range(28, 11).Select(zone => Utm(25800 + zone, zone, south: false, InverseFlatteningGrs, "ETRS89")),
    ];

    private static readonly Dictionary<string, CoordinateSystem> ByUri = All.ToDictionary(system => system.Uri, StringComparer.Ordinal);

    /// <summary>Its address, by which it is asked for.</summary>
    public string Uri { get; }

    /// <summary>What people call it.</summary>
    public string Name { get; }

    /// <summary>Whether its coordinates are degrees; else metres.</summary>
    public bool IsGeographic { get; }

    /// <summary>The system of that address; none where it is none of these. An address of https and a name in brackets mean the same.</summary>
    public static CoordinateSystem? Find(string uri)
    {
        if (uri is ['[', .. var within, ']']) uri = within;
        if (uri.StartsWith("https://www.opengis.net/", StringComparison.Ordinal)) uri = $"http{uri[5..]}";
        if (uri is "OGC:CRS84") return Crs84;
        if (uri.StartsWith("EPSG:", StringComparison.Ordinal)) uri = $"http://www.opengis.net/def/crs/EPSG/0/{uri[5..]}";
        return ByUri.GetValueOrDefault(uri);
    }

    /// <summary>A position of this system from longitude and latitude; none where the system does not reach.</summary>
    public (double X, double Y)? FromDegrees(double longitude, double latitude)
    {
        var at = forward(longitude, latitude);
        return double.IsFinite(at.X) && double.IsFinite(at.Y) ? at : null;
    }

    /// <summary>Longitude and latitude of a position of this system; none where it has none.</summary>
    public (double Longitude, double Latitude)? ToDegrees(double x, double y)
    {
        var at = backward(x, y);
        return double.IsFinite(at.X) && double.IsFinite(at.Y) && Math.Abs(at.Y) <= 90 + 1e-9 && Math.Abs(at.X) <= 540 ? at : null;
    }

    /// <summary>A shape in this system, rounded to about a millimetre; none where the system does not reach.</summary>
    public Geometry? FromDegrees(Geometry shape) => this == Crs84 ? shape : Changed(shape, (x, y) => FromDegrees(x, y) is { } at ? (Rounded(at.X), Rounded(at.Y)) : null);

    /// <summary>A shape of this system in longitude and latitude; none where it has no place on the earth.</summary>
    public Geometry? ToDegrees(Geometry shape) => this == Crs84 ? shape : Changed(shape, (x, y) => ToDegrees(x, y));

    /// <summary>
    /// The area of a rectangle in this system, in longitude and latitude. The sides of a projected one are bent there and followed by
    /// points; a geographic one whose left side is greater than its right one crosses the 180th meridian. None where it has no place.
    /// </summary>
    public Geometry? AreaOf(double x1, double y1, double x2, double y2)
    {
        var factory = Cql.CqlShapes.Factory;
        if (!IsGeographic)
        {
            const int steps = 32;
            Coordinate[] ring =
            [
                .. Side(x1, y1, x2, y1, steps), .. Side(x2, y1, x2, y2, steps), .. Side(x2, y2, x1, y2, steps), .. Side(x1, y2, x1, y1, steps),
                new Coordinate(x1, y1),
            ];
            return ToDegrees(factory.CreatePolygon(ring));
        }

        if (ToDegrees(x1, y1) is not { } low || ToDegrees(x2, y2) is not { } high) return null;
        return low.Longitude <= high.Longitude
            ? factory.ToGeometry(new Envelope(low.Longitude, high.Longitude, low.Latitude, high.Latitude))
            : factory.BuildGeometry(
            [
                factory.ToGeometry(new Envelope(low.Longitude, 180, low.Latitude, high.Latitude)),
                factory.ToGeometry(new Envelope(-180, high.Longitude, low.Latitude, high.Latitude)),
            ]);
    }

    private static IEnumerable<Coordinate> Side(double x1, double y1, double x2, double y2, int steps) =>
        Enumerable.Range(0, steps).Select(step => new Coordinate(x1 + ((x2 - x1) * step / steps), y1 + ((y2 - y1) * step / steps)));

    private double Rounded(double value) => Math.Round(value, IsGeographic ? 9 : 4);

    private static Geometry? Changed(Geometry shape, Func<double, double, (double X, double Y)?> change)
    {
        var copy = shape.Copy();
        var whole = true;
        foreach (var part in Parts(copy))
        {
            for (var i = 0; i < part.Count; i++)
            {
                if (change(part.GetX(i), part.GetY(i)) is not { } at)
                {
                    whole = false;
                    continue;
                }

                part.SetX(i, at.X);
                part.SetY(i, at.Y);
            }
        }

        copy.GeometryChanged();
        return whole ? copy : null;
    }

    private static IEnumerable<CoordinateSequence> Parts(Geometry shape) => shape switch
    {
        Point point => [point.CoordinateSequence],
        LineString line => [line.CoordinateSequence],
        Polygon polygon => polygon.InteriorRings.Prepend(polygon.ExteriorRing).Select(ring => ring.CoordinateSequence),
        GeometryCollection several => several.Geometries.SelectMany(Parts),
        _ => throw new ArgumentOutOfRangeException(nameof(shape)),
    };

    private static CoordinateSystem Utm(int code, int zone, bool south, double inverseFlattening, string datum)
    {
        var projection = new TransverseMercator(SemiMajorMetres, inverseFlattening, 0, (6 * zone) - 183, 0.9996, 500_000, south ? 10_000_000 : 0);
        return new CoordinateSystem(
            Epsg(code), $"{datum}, UTM zone {zone}{(south ? "S" : "N")}, metres", false, (x, y) => projection.Forward(x, y), (x, y) => projection.Backward(x, y));
    }

    private static string Epsg(int code) => $"http://www.opengis.net/def/crs/EPSG/0/{code.ToString(CultureInfo.InvariantCulture)}";
}
