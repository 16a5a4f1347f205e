namespace FleetLight.Electrics;

/// <summary>What was measured, where, and with what meter.</summary>
/// <param name="Place">Where: "driver", a fitting id or a box id.</param>
/// <param name="Quantity">What, and so in which unit.</param>
/// <param name="Value">The number on the meter, in the unit of the quantity.</param>
public sealed record MeasuredReading(string Place, MeasuredQuantity Quantity, double Value)
{
    /// <summary>The greatest value, either sign, that is taken for a reading: 1,000,000,000.</summary>
    public const double MostValue = 1e9;

    /// <summary>The meter's accuracy; null for the stated default of the quantity.</summary>
    public MeterAccuracy? Meter { get; init; }

    /// <summary>How repeated readings scatter where the value is their mean; null for a single reading.</summary>
    public ReadingScatter? Scatter { get; init; }

    /// <summary>
    /// One reading for several of the same quantity at the same place with the same meter: their mean, with what their scatter
    /// says (GUM 4.2). The meter's own error stays, because it is the same in all of them.
    /// </summary>
    /// <param name="reading">Any one of them, for place, quantity and meter.</param>
    /// <param name="values">The numbers on the meter; none leaves the reading as it is.</param>
    public static MeasuredReading MeanOf(MeasuredReading reading, ReadOnlySpan<double> values)
    {
        ArgumentNullException.ThrowIfNull(reading);
        if (values.IsEmpty) return reading;
        double mean = 0, squares = 0;
        for (var i = 0; i < values.Length; i++)
        {
            var off = values[i] - mean;
            mean += off / (i + 1);
            squares += off * (values[i] - mean);
        }

        return reading with
        {
            Value = mean,
            Scatter = values.Length < 2
                ? null
                : new ReadingScatter(Math.Sqrt(squares / (values.Length * (values.Length - 1.0))), values.Length - 1),
        };
    }
}

/// <summary>What the scatter of repeated readings says of their mean (GUM 4.2.3).</summary>
/// <param name="StandardUncertainty">
/// Standard deviation of the mean, in the unit of the reading; 0 to <see cref="MeasuredReading.MostValue"/>.
/// </param>
/// <param name="DegreesOfFreedom">One less than the number of readings; 1 or more.</param>
public readonly record struct ReadingScatter(double StandardUncertainty, int DegreesOfFreedom)
{
    /// <summary>Whether both figures are in range.</summary>
    public bool IsValid => StandardUncertainty is >= 0 and <= MeasuredReading.MostValue && DegreesOfFreedom >= 1;
}

/// <summary>A quantity that installers measure, with its unit.</summary>
public enum MeasuredQuantity
{
    /// <summary>Direct voltage, V: across the driver's output, across a fitting, between the cores in a box.</summary>
    VoltsDc,

    /// <summary>Direct current at the driver's output, mA.</summary>
    Milliamps,

    /// <summary>Resistance of the cable loop, driver off and fittings bridged, Ω.</summary>
    LoopOhms,

    /// <summary>Insulation resistance, MΩ.</summary>
    MegohmsInsulation,

    /// <summary>Whether a fitting is lit: 1 lit, 0 dark; the place is the fitting.</summary>
    FittingLit,
}

/// <summary>The accuracy of a meter: ± (percent of reading + digits × resolution).</summary>
/// <param name="PercentOfReading">± % of the reading; 0 to 100.</param>
/// <param name="Digits">± counts of the last digit; 0 to 1,000.</param>
/// <param name="Resolution">One count on the range used, in the unit of the quantity; 0 to 1,000.</param>
public readonly record struct MeterAccuracy(double PercentOfReading, double Digits, double Resolution)
{
    private const double Root3 = 1.7320508075688772;

    /// <summary>
    /// A handheld 6000-count meter where none is recorded: volts ±(1 % + 3 × 0.01 V), milliamps ±(1.5 % + 3 × 1 mA),
    /// loop ohms ±(1 % + 5 × 0.1 Ω) (which covers leads that were not nulled), insulation ±(5 % + 5 × 0.01 MΩ).
    /// Common practice, no source.
    /// </summary>
    public static MeterAccuracy DefaultFor(MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.Milliamps => new(1.5, 3, 1),
        MeasuredQuantity.LoopOhms => new(1, 5, 0.1),
        MeasuredQuantity.MegohmsInsulation => new(5, 5, 0.01),
        _ => new(1, 3, 0.01),
    };

    /// <summary>The limit of the meter's error at a reading, in the unit of the reading.</summary>
    public double LimitAt(double reading) => (Math.Abs(reading) * PercentOfReading / 100) + (Digits * Resolution);

    /// <summary>The same as a standard uncertainty: a limit is rectangular, divided by √3 (GUM 4.3.7).</summary>
    public double StandardUncertaintyAt(double reading) => LimitAt(reading) / Root3;

    /// <summary>Whether all three figures are in range.</summary>
    public bool IsValid =>
        PercentOfReading is >= 0 and <= 100 && Digits is >= 0 and <= 1000 && Resolution is >= 0 and <= 1000;
}
