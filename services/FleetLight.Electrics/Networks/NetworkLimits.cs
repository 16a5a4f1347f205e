namespace FleetLight.Electrics;

/// <summary>The greatest current and power of a constant-voltage driver.</summary>
internal readonly struct NetworkLimits
{
    /// <summary>
    /// Where no limit is recorded, a driver in a circuit with a fault is taken to give up to this multiple of the
    /// current that the circuit draws as recorded. Our assumption; a third either way is its standard uncertainty.
    /// </summary>
    public const double AssumedMultiple = 3;

    private const double AssumedSpread = 1.0 / 3;

    private NetworkLimits(double amps, double watts, double spread, double deviation)
    {
        var factor = Math.Max(0.01, 1 + (spread * deviation));
        MostAmps = amps * factor;
        MostWatts = watts * factor;
        AmpsPart = amps * spread;
        WattsPart = watts * spread;
    }

    /// <summary>Greatest current, A; infinite where there is no limit.</summary>
    public double MostAmps { get; }

    /// <summary>Greatest power, W; infinite where there is no limit.</summary>
    public double MostWatts { get; }

    /// <summary>Change of the greatest current by one standard uncertainty of the driver's output, A.</summary>
    public double AmpsPart { get; }

    /// <summary>Change of the greatest power by one standard uncertainty of the driver's output, W.</summary>
    public double WattsPart { get; }

    /// <summary>No limit.</summary>
    public static NetworkLimits None { get; } =
        new(double.PositiveInfinity, double.PositiveInfinity, 0, 0);

    /// <summary>The limits of a driver.</summary>
    /// <param name="driver">The driver.</param>
    /// <param name="recordedAmps">What the circuit draws as recorded, A; NaN for a circuit that is as recorded.</param>
    /// <param name="deviation">
    /// How far the driver's output is from its best estimate, in standard uncertainties.
    /// </param>
    public static NetworkLimits Of(DriverModel driver, double recordedAmps, double deviation)
    {
        if (driver.MostAmps is null && driver.MostWatts is null && recordedAmps > 0)
            return new(AssumedMultiple * recordedAmps, double.PositiveInfinity, AssumedSpread, deviation);
        return new(
            driver.MostAmps ?? double.PositiveInfinity, driver.MostWatts ?? double.PositiveInfinity,
            DriverLimits.Spread, deviation);
    }
}
