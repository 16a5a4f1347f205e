namespace FleetLight.Electrics;

/// <summary>The yearly swing of temperature where none is recorded.</summary>
internal static class DriftSeason
{
    // Between the tropics the sun has no one season.
    private const double TropicDegrees = 23.5;

    // The coldest air comes about three weeks into January in the north (common practice, no source).
    private const double ColdestDay = 22;

    // At 0.5 m the yearly wave in soil is flatter by e^(−z/d) and later by z/d of a radian, d = √(2a/ω) = 2.2 m with
    // a = 0.5 mm²/s: heat conduction into a half-space (Carslaw and Jaeger, section 2.6; the figure of soil from memory).
    private const double SoilShare = 0.8;
    private const double SoilDays = 13;

    // How far size and time of the wave may be off where the latitude is known, as a share of it.
    private const double Unsure = 0.4;

    /// <summary>Whether it is known when it is warm.</summary>
    public static bool IsKnown(DriftSeries series) =>
        series.LatitudeDegrees is { } latitude && Math.Abs(latitude) is >= TropicDegrees and <= 90;

    /// <summary>How much warmer than the year's mean it is, as far as that is known beforehand, K.</summary>
    public static double Kelvin(DriftSeries series, DateTimeOffset at, DriftOptions options)
    {
        if (!IsKnown(series)) return 0;
        var inSoil = series.Quantity == MeasuredQuantity.LoopOhms;
        var days = at.UtcDateTime.DayOfYear - ColdestDay - (inSoil ? SoilDays : 0);
        var swing = options.SeasonKelvin * (inSoil ? SoilShare : 1) * Math.Sign(series.LatitudeDegrees!.Value);
        return -swing * Math.Cos(2 * Math.PI * days / DriftPoints.DaysAYear);
    }

    /// <summary>Standard deviation of what remains of its sine and of its cosine, K.</summary>
    public static double Deviation(DriftSeries series, DriftOptions options) =>
        options.SeasonKelvin * (IsKnown(series) ? Unsure : 1);
}
