using FleetLight.Contracts.Facts;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>Invented jobs with positions: sites on a grid two hundredths of a degree wide, their circuits on a finer one.</summary>
internal static class PlacedFacts
{
    private const double West = 10.0;
    private const double South = 52.0;
    private const double BetweenSites = 0.02;
    private const double BetweenCircuits = 0.0004;

    /// <summary>Longitude and latitude of a site's corner, degrees.</summary>
    public static (double East, double North) CornerOf(int site) => (West + site % 25 * BetweenSites, South + site / 25 * BetweenSites);

    /// <summary>Work on a site began.</summary>
    public static SiteOpened Opened(int site)
    {
        var (east, north) = CornerOf(site);
        return new SiteOpened { SiteId = FleetSize.SiteOf(site), Name = $"Garden {site}", Place = $"Row {site / 25}", Position = Point(east, north) };
    }

    /// <summary>The whole job of a circuit, each part where it lies.</summary>
    public static IEnumerable<IFact> Job(FleetSize size, int circuit)
    {
        var site = circuit % size.Sites;
        var (east, north) = CornerOf(site);
        var place = circuit / size.Sites;
        east += place % 20 * BetweenCircuits;
        north += place / 20 * BetweenCircuits;
        var fitting = 0;
        foreach (var fact in Facts.Job(FleetSize.SiteOf(site), $"k{circuit}"))
        {
            yield return fact switch
            {
                DuctLaid duct => duct with
                {
                    Route = new GeoLine { Type = "LineString", Coordinates = [[east, north], [east + 0.0002, north], [east + 0.0002, north + 0.0001]], AccuracyMetres = 0.5 },
                },
                BoxSealed box => box with { Position = Point(east + 0.0002, north + 0.0001) },
                FittingFixed fixing => fixing with { Position = Point(east + 0.00005 * ++fitting, north + 0.00015) },
                DriverConnected driver => driver with { Position = Point(east, north) },
                _ => fact,
            };
        }
    }

    /// <summary>A rectangle around part of a site, as <c>bbox</c> takes it, and its four sides.</summary>
    public static (double West, double South, double East, double North) Around(int site)
    {
        var (east, north) = CornerOf(site);
        return (east - 0.0001, north - 0.0001, east + 10 * BetweenCircuits, north + BetweenCircuits);
    }

    private static GeoPoint Point(double east, double north) => new() { Type = "Point", Coordinates = [east, north], AccuracyMetres = 0.5 };
}
