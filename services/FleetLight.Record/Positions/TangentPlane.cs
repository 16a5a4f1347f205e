using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Positions;

/// <summary>A point of a plane, m: <c>X</c> to the east or right, <c>Y</c> to the north or upwards.</summary>
/// <param name="X">Metres to the east or right.</param>
/// <param name="Y">Metres to the north or upwards.</param>
public readonly record struct PlanePoint(double X, double Y)
{
    /// <summary>Distance to another point, m.</summary>
    public double To(PlanePoint other) => Math.Sqrt(((other.X - X) * (other.X - X)) + ((other.Y - Y) * (other.Y - Y)));
}

/// <summary>
/// The plane that touches the WGS 84 ellipsoid at an origin, in metres: degrees times the two radii of curvature at the origin (those of any
/// textbook of geodesy). On a site of 500 m it is off by some centimetres at its far edge, over the 30 m of a tape by less than a millimetre.
/// </summary>
public sealed class TangentPlane
{
    // WGS 84 (EPSG 7030): semi-major axis, m, and the square of the eccentricity.
    private const double SemiMajorMetres = 6378137;
    private const double EccentricitySquared = 0.00669437999014;

    // At the poles a degree of longitude has no length; a site there is not measured in it.
    private const double LeastMetresPerDegree = 1;

    private readonly double longitude;
    private readonly double latitude;
    private readonly double eastPerDegree;
    private readonly double northPerDegree;

    /// <summary>The plane at an origin, degrees WGS 84.</summary>
    public TangentPlane(double longitudeDegrees, double latitudeDegrees)
    {
        (longitude, latitude) = (longitudeDegrees, latitudeDegrees);
        var phi = latitudeDegrees * Math.PI / 180;
        var w = 1 - (EccentricitySquared * Math.Sin(phi) * Math.Sin(phi));
        eastPerDegree = Math.Max(LeastMetresPerDegree, SemiMajorMetres / Math.Sqrt(w) * Math.Cos(phi) * Math.PI / 180);
        northPerDegree = SemiMajorMetres * (1 - EccentricitySquared) / (w * Math.Sqrt(w)) * Math.PI / 180;
    }

    /// <summary>The plane at the middle of positions.</summary>
    public static TangentPlane Around(IEnumerable<GeoPoint> positions)
    {
        ArgumentNullException.ThrowIfNull(positions);
        double east = 0, north = 0;
        var count = 0;
        GeoPoint? first = null;
        foreach (var position in positions)
        {
            first ??= position;
            // Across the 180th meridian the mean is taken beside the first.
            east += Wrapped(position.Coordinates[0] - first.Coordinates[0]);
            north += position.Coordinates[1];
            count++;
        }

        return first is null ? new(0, 0) : new(Wrapped(first.Coordinates[0] + (east / count)), north / count);
    }

    /// <summary>A position in the plane.</summary>
    public PlanePoint Of(GeoPoint position)
    {
        ArgumentNullException.ThrowIfNull(position);
        return new(Wrapped(position.Coordinates[0] - longitude) * eastPerDegree, (position.Coordinates[1] - latitude) * northPerDegree);
    }

    /// <summary>A point of the plane as longitude and latitude, degrees WGS 84, to 8 decimals: a millimetre.</summary>
    public double[] Back(PlanePoint point) =>
    [
        Math.Round(Wrapped(longitude + (point.X / eastPerDegree)), 8),
        Math.Round(Math.Clamp(latitude + (point.Y / northPerDegree), -90, 90), 8),
    ];

    private static double Wrapped(double degrees) => degrees is >= -180 and <= 180 ? degrees : Math.IEEERemainder(degrees, 360);
}
