namespace FleetLight.Electrics;

/// <summary>What a driver has left; null where the rating is not recorded, negative where it is exceeded.</summary>
/// <param name="VoltsDc">Greatest output voltage less the expected one, V DC (constant current).</param>
/// <param name="Watts">Greatest output power less the expected one, W.</param>
/// <param name="Amps">Greatest output current less the expected one, A (constant voltage).</param>
public sealed record DriverHeadroom(double? VoltsDc, double? Watts, double? Amps)
{
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
            constantCurrent ? null : driver.MostAmps - (expected.DriverMilliamps.Best / 1000));
    }
}
