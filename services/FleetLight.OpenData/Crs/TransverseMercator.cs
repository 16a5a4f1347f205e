namespace FleetLight.OpenData.Crs;

/// <summary>
/// The transverse Mercator projection by Krüger's series in the third flattening, to its sixth power (C. F. F. Karney, "Transverse
/// Mercator with an accuracy of a few nanometers", Journal of Geodesy 85, 2011, equations 35 and 36; from memory, checked in the
/// tests against published worked examples).
/// </summary>
public sealed class TransverseMercator
{
    /// <summary>How far from the central meridian it is used, in degrees: beyond, the series says nothing.</summary>
    public const double MostDegrees = 60;

    private readonly double[] forward;
    private readonly double[] backward;
    private readonly double eccentricity;
    private readonly double radius;
    private readonly double meridian;
    private readonly double scale;
    private readonly double falseEasting;
    private readonly double falseNorthing;

    /// <summary>A projection.</summary>
    /// <param name="semiMajorMetres">Semi-major axis of the ellipsoid, m.</param>
    /// <param name="inverseFlattening">Its inverse flattening.</param>
    /// <param name="originDegrees">Latitude of the origin, degrees.</param>
    /// <param name="meridianDegrees">Longitude of the central meridian, degrees.</param>
    /// <param name="scale">Scale on the central meridian.</param>
    /// <param name="falseEasting">False easting, m.</param>
    /// <param name="falseNorthing">False northing, m.</param>
    public TransverseMercator(
        double semiMajorMetres, double inverseFlattening, double originDegrees, double meridianDegrees, double scale, double falseEasting, double falseNorthing)
    {
        var f = 1 / inverseFlattening;
        var n = f / (2 - f);
        var (n2, n3, n4, n5, n6) = (n * n, n * n * n, Math.Pow(n, 4), Math.Pow(n, 5), Math.Pow(n, 6));
        eccentricity = Math.Sqrt(f * (2 - f));
        radius = semiMajorMetres / (1 + n) * (1 + (n2 / 4) + (n4 / 64) + (n6 / 256));
        forward =
        [
            (n / 2) - (2 * n2 / 3) + (5 * n3 / 16) + (41 * n4 / 180) - (127 * n5 / 288) + (7891 * n6 / 37800),
            (13 * n2 / 48) - (3 * n3 / 5) + (557 * n4 / 1440) + (281 * n5 / 630) - (1983433 * n6 / 1935360),
            (61 * n3 / 240) - (103 * n4 / 140) + (15061 * n5 / 26880) + (167603 * n6 / 181440),
            (49561 * n4 / 161280) - (179 * n5 / 168) + (6601661 * n6 / 7257600),
            (34729 * n5 / 80640) - (3418889 * n6 / 1995840),
            212378941 * n6 / 319334400,
        ];
        backward =
        [
            (n / 2) - (2 * n2 / 3) + (37 * n3 / 96) - (n4 / 360) - (81 * n5 / 512) + (96199 * n6 / 604800),
            (n2 / 48) + (n3 / 15) - (437 * n4 / 1440) + (46 * n5 / 105) - (1118711 * n6 / 3870720),
            (17 * n3 / 480) - (37 * n4 / 840) - (209 * n5 / 4480) + (5569 * n6 / 90720),
            (4397 * n4 / 161280) - (11 * n5 / 504) - (830251 * n6 / 7257600),
            (4583 * n5 / 161280) - (108847 * n6 / 3991680),
            20648693 * n6 / 638668800,
        ];
        meridian = meridianDegrees;
        this.scale = scale;
        this.falseEasting = falseEasting;
        this.falseNorthing = falseNorthing;
        // The origin lies where its latitude would be drawn.
        this.falseNorthing -= Forward(meridianDegrees, originDegrees).Northing - falseNorthing;
    }

    /// <summary>Easting and northing in m of a longitude and latitude in degrees; not numbers beyond <see cref="MostDegrees"/>.</summary>
    public (double Easting, double Northing) Forward(double longitude, double latitude)
    {
        var difference = Math.IEEERemainder(longitude - meridian, 360);
        if (Math.Abs(difference) > MostDegrees) return (double.NaN, double.NaN);
        var (lambda, phi) = (double.DegreesToRadians(difference), double.DegreesToRadians(latitude));
        // The conformal latitude, by its tangent.
        var sine = Math.Sin(phi);
        var t = Math.Sinh(Math.Atanh(sine) - (eccentricity * Math.Atanh(eccentricity * sine)));
        if (double.IsInfinity(t)) t = Math.CopySign(1e300, t);
        var (xi, eta) = (Math.Atan2(t, Math.Cos(lambda)), Math.Asinh(Math.Sin(lambda) / Math.Sqrt((t * t) + (Math.Cos(lambda) * Math.Cos(lambda)))));
        var (north, east) = (xi, eta);
        for (var i = 0; i < forward.Length; i++)
        {
            var twice = 2 * (i + 1);
            north += forward[i] * Math.Sin(twice * xi) * Math.Cosh(twice * eta);
            east += forward[i] * Math.Cos(twice * xi) * Math.Sinh(twice * eta);
        }

        return (falseEasting + (scale * radius * east), falseNorthing + (scale * radius * north));
    }

    /// <summary>Longitude and latitude in degrees of an easting and northing in m.</summary>
    public (double Longitude, double Latitude) Backward(double easting, double northing)
    {
        var (xi, eta) = ((northing - falseNorthing) / (scale * radius), (easting - falseEasting) / (scale * radius));
        var (north, east) = (xi, eta);
        for (var i = 0; i < backward.Length; i++)
        {
            var twice = 2 * (i + 1);
            north -= backward[i] * Math.Sin(twice * xi) * Math.Cosh(twice * eta);
            east -= backward[i] * Math.Cos(twice * xi) * Math.Sinh(twice * eta);
        }

        var conformal = Math.Sin(north) / Math.Sqrt((Math.Sinh(east) * Math.Sinh(east)) + (Math.Cos(north) * Math.Cos(north)));
        var lambda = Math.Atan2(Math.Sinh(east), Math.Cos(north));
        return (Math.IEEERemainder(meridian + double.RadiansToDegrees(lambda), 360), double.RadiansToDegrees(Math.Atan(Geographic(conformal))));
    }

    // The tangent of the latitude from that of the conformal latitude, by Newton's method (Karney 2011, equations 19 to 21).
    private double Geographic(double conformal)
    {
        if (!double.IsFinite(conformal)) return conformal;
        var squared = eccentricity * eccentricity;
        var t = conformal / (1 - squared);
        for (var step = 0; step < 8; step++)
        {
            var secant = Math.Sqrt(1 + (t * t));
            var sigma = Math.Sinh(eccentricity * Math.Atanh(eccentricity * t / secant));
            var at = (t * Math.Sqrt(1 + (sigma * sigma))) - (sigma * secant);
            var change = (conformal - at) / Math.Sqrt(1 + (at * at)) * (1 + ((1 - squared) * t * t)) / ((1 - squared) * secant);
            t += change;
            if (Math.Abs(change) <= 1e-15 * Math.Max(1, Math.Abs(t))) break;
        }

        return t;
    }
}
