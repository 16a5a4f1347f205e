namespace FleetLight.Electrics;

/// <summary>
/// What a driver has left by the best estimate; null where the rating is not recorded, negative where it is exceeded.
/// </summary>
/// <param name="VoltsDc">Greatest output voltage less the expected one, V DC (constant current).</param>
/// <param name="Watts">Greatest output power less the expected one, W.</param>
/// <param name="Amps">Greatest output current less the expected one, A (constant voltage).</param>
public sealed record DriverHeadroom(double? VoltsDc, double? Watts, double? Amps)
{
    /// <summary>The same at the upper end of the expected voltage's 95 % interval, V DC (constant current).</summary>
    public double? VoltsDcAtHigh95 { get; init; }

    /// <summary>The same at the upper end of the expected power's 95 % interval, W.</summary>
    public double? WattsAtHigh95 { get; init; }

    /// <summary>The same at the upper end of the expected current's 95 % interval, A (constant voltage).</summary>
    public double? AmpsAtHigh95 { get; init; }

    /// <summary>
    /// Lower end of the expected voltage's 95 % interval less the least voltage from which the driver regulates, V DC
    /// (constant current).
    /// </summary>
    public double? VoltsDcAboveLeast { get; init; }

    /// <summary>Headroom of a driver on a circuit.</summary>
    /// <param name="driver">The driver.</param>
    /// <param name="expected">What the circuit should read.</param>
    public static DriverHeadroom Of(DriverModel driver, ExpectedReadings expected)
    {
        ArgumentNullException.ThrowIfNull(driver);
        ArgumentNullException.ThrowIfNull(expected);
        var constantCurrent = expected.Drive == Contracts.DriveKind.ConstantCurrent;
        return new DriverHeadroom(
            constantCurrent ? driver.MostVolts - expected.DriverVoltsDc.Best : null,
            driver.MostWatts - expected.DriverWatts.Best,
            constantCurrent ? null : driver.MostAmps - (expected.DriverMilliamps.Best / 1000))
        {
            VoltsDcAtHigh95 = constantCurrent ? driver.MostVolts - expected.DriverVoltsDc.High95 : null,
            WattsAtHigh95 = driver.MostWatts - expected.DriverWatts.High95,
            AmpsAtHigh95 = constantCurrent ? null : driver.MostAmps - (expected.DriverMilliamps.High95 / 1000),
            VoltsDcAboveLeast = constantCurrent ? expected.DriverVoltsDc.Low95 - driver.LeastVolts : null,
        };
    }
}
