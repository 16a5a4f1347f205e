using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;

namespace FleetLight.Record.Materials;

/// <summary>What is taken for granted of materials where nothing is recorded (common practice, no source). Each may be set otherwise.</summary>
public sealed record MaterialAssumptions
{
    private const string Source = " (common practice, no source)";

    /// <summary>The stated defaults.</summary>
    public static MaterialAssumptions Default { get; } = new();

    /// <summary>Cable cut beyond the length designed, %, 0 to 100.</summary>
    [Quantity("%", 0, 100)]
    public double AllowancePercent { get; init; } = 5;

    /// <summary>Cable left at each of its ends for making off, m, 0 to 20.</summary>
    [Quantity("m", 0, 20)]
    public double EndMetres { get; init; } = 0.5;

    /// <summary>Lead beyond the distance to the box, so that the fitting can be lifted out with its joint left closed, m, 0 to 20.</summary>
    [Quantity("m", 0, 20)]
    public double LeadSlackMetres { get; init; } = 0.6;

    /// <summary>Length of a full reel of cable, m, 1 to 5,000.</summary>
    [Quantity("m", 1, 5000)]
    public double ReelMetres { get; init; } = 100;

    /// <summary>Gel that fills a joint box, ml, 0 to 10,000.</summary>
    [Quantity("ml", 0, 10000)]
    public double GelMillilitres { get; init; } = 250;

    /// <summary>Draw string beyond each end of a duct, to be tied off, m, 0 to 20.</summary>
    [Quantity("m", 0, 20)]
    public double StringEndMetres { get; init; } = 1;

    /// <summary>Them all, for whoever reads the figures.</summary>
    public IReadOnlyList<MaterialAssumption> Listed() =>
    [
        new("allowancePercent", AllowancePercent, "%", "Cable beyond the length designed, for bends and waste" + Source + "."),
        new("endMetres", EndMetres, "m", "Cable left at each of its two ends for making off" + Source + "."),
        new(
            "leadSlackMetres", LeadSlackMetres, "m",
            "Lead beyond the distance from fitting to box, so that the fitting comes out with its joint left closed" + Source + "."),
        new("reelMetres", ReelMetres, "m", "Length of a full reel" + Source + "."),
        new("gelMillilitres", GelMillilitres, "ml", "Gel for each box in the ground; the figure of the box counts where it is known" + Source + "."),
        new("stringEndMetres", StringEndMetres, "m", "Draw string beyond each end of a duct" + Source + "."),
    ];

    /// <summary>The length to cut for a length designed, m.</summary>
    internal double Cut(double metres) => MaterialMath.Metres((metres * (1 + (AllowancePercent / 100))) + (2 * EndMetres));

    /// <summary>The lead for a distance, m.</summary>
    internal double Lead(double metres) => MaterialMath.Metres((metres * (1 + (AllowancePercent / 100))) + LeadSlackMetres);
}

/// <summary>Arithmetic of materials.</summary>
internal static class MaterialMath
{
    private const double MeanEarthRadiusMetres = 6_371_008.8;

    /// <summary>A length as it is measured on site: whole centimetres, rounded up past what a sum of binary fractions leaves over.</summary>
    public static double Metres(double metres) => Math.Round(Math.Ceiling(Math.Round(metres * 100, 6)) / 100, 2);

    /// <summary>
    /// Distance of two positions over the ground, m: great circle on a sphere with the mean radius of the earth (IUGG). Height is left
    /// out. Off by at most 0.6 % from the ellipsoid.
    /// </summary>
    public static double Distance(GeoPoint one, GeoPoint other)
    {
        var (lat1, lat2) = (Radians(one.Coordinates[1]), Radians(other.Coordinates[1]));
        var (dLat, dLon) = (lat2 - lat1, Radians(other.Coordinates[0] - one.Coordinates[0]));
        var h = Square(Math.Sin(dLat / 2)) + (Math.Cos(lat1) * Math.Cos(lat2) * Square(Math.Sin(dLon / 2)));
        return 2 * MeanEarthRadiusMetres * Math.Asin(Math.Min(1, Math.Sqrt(h)));
    }

    private static double Radians(double degrees) => degrees * Math.PI / 180;

    private static double Square(double value) => value * value;
}
