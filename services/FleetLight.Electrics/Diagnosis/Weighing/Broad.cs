namespace FleetLight.Electrics;

/// <summary>
/// The density of a reading where nothing is known of the fault: much of it around what a sound circuit reads, some spread
/// evenly over all that a meter might show, some next to zero.
/// </summary>
/// <remarks>Shares and widths are judgement, no source.</remarks>
internal sealed class Broad
{
    private const double AroundShare = 0.5;
    private const double EvenShare = 0.35;

    // Half of the readings around the expected one are closer than this share of it (a Cauchy density).
    private const double AroundWidth = 0.15;

    // Next to zero: this share of the span.
    private const double ZeroWidth = 0.02;

    // Insulation: about 1 MΩ within a factor of 100.
    private const double LogMegohmsSpread = 4.6;

    private readonly ICircuitState sound;
    private readonly double volts;
    private readonly double milliamps;

    public Broad(CircuitModel model, ICircuitState sound)
    {
        this.sound = sound;
        var driver = model.Driver;
        var expected = Math.Abs(Expected(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc));
        volts = Math.Max(
            2 * expected, Math.Max(driver.OpenCircuitVolts ?? 0, driver.MostVolts ?? 0));
        milliamps = 2 * Math.Abs(Expected(CircuitModel.DriverNode, MeasuredQuantity.Milliamps));
    }

    /// <summary>Logarithm of the density of a reading.</summary>
    public double LogDensity(Row row)
    {
        if (row.Quantity == MeasuredQuantity.MegohmsInsulation)
            return LogNormal(row.Value, LogMegohmsSpread * LogMegohmsSpread);
        var meter = Math.Sqrt(row.MeterVariance);
        var span = Math.Max(Span(row), (1.1 * Math.Abs(row.Value)) + meter);
        var expected = Expected(row.Place, row.Quantity);
        var width = (AroundWidth * Math.Abs(expected)) + (3 * meter);
        var off = (row.Value - expected) / width;
        var zero = (ZeroWidth * ZeroWidth * span * span) + row.MeterVariance;
        return Math.Log(
            (AroundShare / (Math.PI * width * (1 + (off * off))))
            + (EvenShare / (2 * span))
            + ((1 - AroundShare - EvenShare) * Math.Exp(LogNormal(row.Value, zero))));
    }

    /// <summary>The same as a mean and a variance, for a reading that is yet to be taken.</summary>
    public (double Mean, double Variance) Spread(string place, MeasuredQuantity quantity)
    {
        if (quantity == MeasuredQuantity.MegohmsInsulation) return (0, LogMegohmsSpread * LogMegohmsSpread);
        var span = Span(new Row(place, quantity, 0, 0));
        // A third of the span: that of the even part.
        return (Expected(place, quantity), span * span / 3);
    }

    private double Span(Row row) => row.Quantity switch
    {
        MeasuredQuantity.VoltsDc => volts,
        MeasuredQuantity.Milliamps => milliamps,
        _ => Math.Max(10, 5 * Expected(row.Place, row.Quantity)),
    };

    private double Expected(string place, MeasuredQuantity quantity)
    {
        if (!sound.Predicts(place, quantity)) return 0;
        Span<double> parts = sound.Inputs <= 256 ? stackalloc double[sound.Inputs] : new double[sound.Inputs];
        var mean = sound.Predict(place, quantity, parts);
        return double.IsFinite(mean) ? mean : 0;
    }

    private static double LogNormal(double off, double variance) =>
        -0.5 * ((off * off / variance) + Math.Log(2 * Math.PI * variance));
}
