namespace FleetLight.OpenData.Crs;

/// <summary>The projection of web maps (EPSG:3857; EPSG Guidance Note 7-2, method 1024): the sphere's Mercator with the ellipsoid's latitudes.</summary>
public static class WebMercator
{
    /// <summary>Radius of the sphere, m: the semi-major axis of WGS 84.</summary>
    public const double RadiusMetres = 6_378_137;

    /// <summary>How far north and south it is used, degrees.</summary>
    public const double MostDegrees = 89.9;

    /// <summary>Half the width of the square that web maps show, m.</summary>
    public const double HalfMetres = Math.PI * RadiusMetres;

    /// <summary>Easting and northing in m; not numbers beyond <see cref="MostDegrees"/>.</summary>
    public static (double Easting, double Northing) Forward(double longitude, double latitude) => Math.Abs(latitude) > MostDegrees
        ? (double.NaN, double.NaN)
        : (RadiusMetres * double.DegreesToRadians(longitude), RadiusMetres * Math.Log(Math.Tan((Math.PI / 4) + (double.DegreesToRadians(latitude) / 2))));

    /// <summary>Longitude and latitude in degrees.</summary>
    public static (double Longitude, double Latitude) Backward(double easting, double northing) =>
        (double.RadiansToDegrees(easting / RadiusMetres), double.RadiansToDegrees((2 * Math.Atan(Math.Exp(northing / RadiusMetres))) - (Math.PI / 2)));
}
