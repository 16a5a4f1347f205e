using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Names what would explain a circuit's readings. Advice, never a certificate.</summary>
/// <remarks>
/// Every single fault of a catalogue is put into the circuit, the readings it would give are worked out with their
/// uncertainty and correlations, and Bayes' rule weighs them by the stated priors. "None of these" takes part as
/// readings spread evenly over all that a meter might show.
/// </remarks>
public static class Diagnosis
{
    /// <summary>How many readings a diagnosis uses: the last 32 usable ones.</summary>
    public const int MostReadings = 32;

    /// <summary>The largest circuit that is diagnosed, in fittings and in runs.</summary>
    public const int MostParts = 200;

    /// <summary>Explains readings.</summary>
    /// <param name="model">The circuit as recorded.</param>
    /// <param name="readings">All readings of it so far, oldest first.</param>
    /// <param name="options">What to look for; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static DiagnosisResult Explain(
        CircuitModel? model,
        IReadOnlyList<MeasuredReading?>? readings,
        DiagnosisOptions? options = null,
        Assumptions? assumptions = null)
    {
        var assumed = assumptions ?? Assumptions.Default;
        var wanted = options ?? DiagnosisOptions.Default;
        if (wanted.Priors is null) wanted = wanted with { Priors = FaultPriors.Default };
        var refusal = CircuitCheck.FirstObstacle(model, assumed) ?? TooLarge(model!);
        if (refusal is not null || model is null) return Refused(refusal);
        return model.Drive == DriveKind.ConstantCurrent
            ? ExplainSeries(model, readings, wanted, assumed)
            : ExplainTree(model, readings, wanted, assumed);
    }

    private static DiagnosisResult ExplainSeries(
        CircuitModel model, IReadOnlyList<MeasuredReading?>? readings, DiagnosisOptions options,
        Assumptions assumptions)
    {
        var sound = SeriesState.Of(model, assumptions);
        var driver = model.Driver;
        var span = Math.Max(2 * sound.VoltsAt(1), Math.Max(driver.OpenCircuitVolts ?? 0, driver.MostVolts ?? 0));
        var set = ReadingSet.Of(readings, sound, span, sound.RatedAmps);
        var weighing = new Weighing(set);
        new SeriesFaults(model, sound, options, weighing).Weigh();
        return Rank(model, weighing, options);
    }

    private static DiagnosisResult ExplainTree(
        CircuitModel model, IReadOnlyList<MeasuredReading?>? readings, DiagnosisOptions options,
        Assumptions assumptions)
    {
        var plan = TreePlan.TryLay(model, assumptions, out var refusal);
        if (plan is null) return Refused(refusal);
        var volts = model.Driver.RatedVolts.GetValueOrDefault();
        var sound = TreeState.TrySolve(plan, new TreeFault(volts));
        if (sound is null) return Refused(Collapse.Refusal(plan.Network, volts));
        var set = ReadingSet.Of(readings, sound, 2 * volts, sound.DriverAmps);
        var weighing = new Weighing(set);
        new TreeFaults(model, plan, options, weighing).Weigh(sound);
        return Rank(model, weighing, options);
    }

    private static DiagnosisResult Rank(CircuitModel model, Weighing weighing, DiagnosisOptions options)
    {
        // Without it nothing would be left where every other explanation is impossible.
        var prior = options.Priors.NoneOfThese is > 0 and <= 1 and var stated
            ? stated
            : FaultPriors.Default.NoneOfThese;
        weighing.Add(
            new Hypothesis(FaultKind.NoneOfThese, 0, null!, default),
            prior,
            Prediction.From(weighing.Readings, _ => (double.NaN, 0)));
        var ranked = new Ranking(model, weighing.Readings).Rank(weighing.All);
        return new DiagnosisResult(ranked, null, weighing.Readings.Count);
    }

    private static CannotExpect? TooLarge(CircuitModel model) =>
        model.Fittings.Length > MostParts || model.Runs.OrEmpty().Length > MostParts
            ? new CannotExpect(
                RefusalReason.OutOfRange,
                $"A diagnosis takes at most {MostParts} fittings and {MostParts} runs.",
                "fittings")
            : null;

    private static DiagnosisResult Refused(CannotExpect? refusal)
    {
        var none = new FaultExplanation(
            FaultKind.NoneOfThese,
            "Nothing can be worked out for the circuit as recorded.",
            "Correct what is recorded of the circuit first.",
            1, 1);
        return new DiagnosisResult([none], refusal, 0);
    }
}
