namespace FleetLight.Electrics;

/// <summary>What a constant-current driver does where it cannot give its current.</summary>
internal readonly struct DriverLimits
{
    /// <summary>
    /// Relative standard uncertainty of the greatest voltage, current or power that a driver holds at its limit. Common
    /// practice, no source.
    /// </summary>
    public const double Spread = 0.02;

    /// <summary>Relative standard uncertainty of a stated open-circuit voltage. Common practice, no source.</summary>
    private const double OpenSpread = 0.05;

    /// <summary>Greatest extra-low voltage, V DC: what an unknown open-circuit voltage is below (IEC 61140).</summary>
    private const double ElvVolts = 120;

    /// <param name="driver">The driver.</param>
    /// <param name="recordedVolts">What the loop needs as recorded, V.</param>
    /// <param name="deviation">
    /// How far the driver's output is from its best estimate, in standard uncertainties.
    /// </param>
    public DriverLimits(DriverModel driver, double recordedVolts, double deviation)
    {
        var spread = Math.Max(0.01, 1 + (Spread * deviation));
        MostVolts = (driver.MostVolts ?? double.PositiveInfinity) * spread;
        MostWatts = (driver.MostWatts ?? double.PositiveInfinity) * spread;
        VoltsPart = MostVolts / spread * Spread;
        WattsPart = MostWatts / spread * Spread;
        var most = Math.Max(recordedVolts, ElvVolts);
        var open = driver.OpenCircuitVolts ?? driver.MostVolts ?? ((recordedVolts + most) / 2);
        // A driver whose open-circuit voltage is not stated rises somewhat beyond its greatest running voltage.
        OpenPart = driver.OpenCircuitVolts is not null ? OpenSpread * open
            : driver.MostVolts is not null ? 2 * OpenSpread * open
            : Math.Max(OpenSpread * open, (most - recordedVolts) / Math.Sqrt(12));
        OpenVolts = Math.Max(0, open + (OpenPart * deviation));
    }

    /// <summary>Greatest voltage it holds under load, V; infinite where not known.</summary>
    public double MostVolts { get; }

    /// <summary>Greatest power, W; infinite where not known.</summary>
    public double MostWatts { get; }

    /// <summary>Voltage at its open output, V.</summary>
    public double OpenVolts { get; }

    /// <summary>Change of <see cref="MostVolts"/> by one standard uncertainty of the driver's output, V.</summary>
    public double VoltsPart { get; }

    /// <summary>Change of <see cref="MostWatts"/> by one standard uncertainty of the driver's output, W.</summary>
    public double WattsPart { get; }

    /// <summary>Change of <see cref="OpenVolts"/> by one standard uncertainty of the driver's output, V.</summary>
    public double OpenPart { get; }
}
