namespace FleetLight.Electrics;

/// <summary>What a circuit may read that is not as designed: any value of a span, save those too near the expected.</summary>
/// <param name="Span">Width of the span from zero on, in the unit of the reading.</param>
/// <param name="Difference">How near is too near, in the unit of the reading; 0 where any difference counts.</param>
internal readonly record struct Alternative(double Span, double Difference)
{
    // A loop that is badly joined or half open reads from a few to some ten ohms; beyond that a meter is on another
    // range. Common practice, no source.
    private const double LoopOhms = 100;

    /// <summary>
    /// The span of a quantity: from zero to twice what the driver gives, or to the driver's greatest volts or current
    /// where they are known to be more. It always takes in the reading itself.
    /// </summary>
    public static Alternative For(
        ExpectedReadings expected, MeasuredReading reading, double best, DecisionRule rule)
    {
        var loading = expected.Loading;
        var span = reading.Quantity switch
        {
            MeasuredQuantity.VoltsDc => Widest(expected.DriverVoltsDc.Best, loading?.PercentOfMostVolts),
            MeasuredQuantity.Milliamps => Widest(expected.DriverMilliamps.Best, loading?.PercentOfMostAmps),
            _ => LoopOhms,
        };
        span = Math.Max(Math.Max(span, 2 * Math.Abs(best)), 1.1 * Math.Abs(reading.Value));
        var difference = Math.Abs(best) * rule.SmallestDifferencePercent.GetValueOrDefault() / 100;
        return new Alternative(Math.Max(span, 4 * difference), difference);
    }

    /// <summary>Probability density of a reading that is off by this much, with the spread of design and meter.</summary>
    public double Density(double off, Spread spread)
    {
        var near = Difference > 0 ? spread.Below(off + Difference) - spread.Below(off - Difference) : 0;
        return (1 - near) / (Span - (2 * Difference));
    }

    /// <summary>
    /// Probability that a circuit that is not as designed is accepted, where readings up to so far off are: over the whole
    /// span, or for one that is off by just the smallest difference that matters.
    /// </summary>
    public double Accepted(double half, Spread spread) => Difference > 0
        ? spread.Below(half - Difference) - spread.Below(-half - Difference)
        : Math.Min(1, 2 * half / Span);

    private static double Widest(double best, double? percentOfMost) =>
        Math.Max(2 * Math.Abs(best), percentOfMost > 0 ? 100 * Math.Abs(best) / percentOfMost.Value : 0);
}
