namespace FleetLight.Demo.Physics;

/// <summary>The weather of a temperate garden: what the year and the day do to fittings and soil.</summary>
/// <param name="Seed">Seed of the fleet.</param>
internal sealed record Season(long Seed)
{
    private const double Year = 365.25;

    /// <summary>Air temperature at dusk, °C: the year's swing and the day's own chance.</summary>
    public double AirCelsius(DateTimeOffset at)
    {
        var days = (at - DateTimeOffset.UnixEpoch).Days;
        return 10.5 - (8.5 * Swing(at, coldest: 20)) + Chance.Of(Seed, $"weather {days}").Spread(2.5, 6);
    }

    /// <summary>Soil at the depth of a duct, °C: flatter and later than the air.</summary>
    public static double SoilCelsius(DateTimeOffset at) => 11 - (5.5 * Swing(at, coldest: 45));

    private static double Swing(DateTimeOffset at, double coldest) =>
        Math.Cos(2 * Math.PI * (at.UtcDateTime.DayOfYear - coldest) / Year);
}
