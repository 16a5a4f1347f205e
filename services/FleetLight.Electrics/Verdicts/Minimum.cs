namespace FleetLight.Electrics;

/// <summary>
/// Judges a reading against a published minimum: nothing is too well insulated. Advice, never a certificate.
/// </summary>
internal static class Minimum
{
    /// <summary>
    /// Insulation resistance. Circuits of this library are extra-low voltage by design; one that is not gets the row of
    /// its voltage.
    /// </summary>
    /// <remarks>
    /// A reading below the minimum fails whatever the meter, because the standard speaks of the value measured. Above it
    /// the guard band is as wide as keeps the rule's risk that a value just below the minimum passes.
    /// </remarks>
    public static Verdict JudgeInsulation(
        ExpectedReadings expected, MeasuredReading reading, MeterAccuracy meter, DecisionRule rule)
    {
        var judged = InsulationResistance.Judge(
            expected.DriverVoltsDc.Best, isSelvOrPelv: true, reading.Value, meter);
        if (judged.Limit is not { } least) return Verdicts.Cannot(VerdictReason.BadReading, judged.Text, reading);
        var error = new Spread(default, default, default, default)
            .WithRectangular(meter.StandardUncertaintyAt(reading.Value));
        // What stays below with the risk on one side stays inside with twice the risk on both.
        var guard = error.Half(1 - (2 * Math.Min(0.5, rule.GreatestRiskOfPassingBad)));
        var kind = reading.Value < least ? VerdictKind.Outside
            : reading.Value < least + guard ? VerdictKind.Doubtful
            : VerdictKind.Within;
        var reaches = error.Below(reading.Value - least);
        return new Verdict(kind, VerdictReason.ComparedWithMinimum, Text(kind, judged, reading.Value, least, guard))
        {
            Low = least,
            Measured = reading.Value,
            StandardUncertainty = error.StandardUncertainty,
            GuardBand = guard,
            ProbabilityAsDesigned = reaches,
            RiskOfPassingBad = error.StandardUncertainty > 0 ? error.Below(-guard) : 0,
        };
    }

    private static string Text(VerdictKind kind, TestJudgement judged, double megohms, double least, double guard) =>
        kind == judged.Kind
            ? judged.Text
            : $"{Plain.Figure(megohms)} MΩ reaches the least of {Plain.Figure(least)} MΩ with the {Plain.Figure(guard)} MΩ "
                + "to spare that the decision rule asks for.";
}
