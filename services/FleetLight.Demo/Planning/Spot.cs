using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Planning;

/// <summary>A place in the invented town, metres east and north of its middle.</summary>
/// <param name="East">Metres east.</param>
/// <param name="North">Metres north.</param>
internal readonly record struct Spot(double East, double North)
{
    // A round crossing of the grid, inland: the town about it is invented.
    private const double MiddleLongitude = 10;
    private const double MiddleLatitude = 51;
    private const double MetresADegree = 111_200;

    /// <summary>The spot that far away in a direction, degrees from east, counterclockwise.</summary>
    public Spot Away(double metres, double degrees) =>
        new(East + (metres * Math.Cos(degrees * Math.PI / 180)), North + (metres * Math.Sin(degrees * Math.PI / 180)));

    /// <summary>As GeoJSON.</summary>
    public GeoPoint Point() => new() { Type = "Point", Coordinates = Coordinates() };

    /// <summary>The line through spots, as GeoJSON.</summary>
    public static GeoLine Line(params IEnumerable<Spot> spots) =>
        new() { Type = "LineString", Coordinates = [.. spots.Select(spot => spot.Coordinates())] };

    private double[] Coordinates() =>
    [
        Math.Round(MiddleLongitude + (East / (MetresADegree * Math.Cos(MiddleLatitude * Math.PI / 180))), 7),
        Math.Round(MiddleLatitude + (North / MetresADegree), 7),
    ];
}
