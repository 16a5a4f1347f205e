namespace FleetLight.Electrics;

/// <summary>Names what would explain a circuit's readings. Advice, never a certificate.</summary>
/// <remarks>
/// Every fault of a catalogue is put into the circuit, the readings that it would give are worked out with their
/// uncertainty and correlations, and Bayes' rule weighs them by the stated priors, given all readings together. "None of
/// these" takes part as readings spread over all that a meter might show, and as one reading that does not go with the
/// others.
/// </remarks>
public static class Diagnosis
{
    /// <summary>How many readings of a meter a diagnosis uses: the last 32 usable ones.</summary>
    public const int MostReadings = 32;

    /// <summary>How many looks at fittings, lit or dark, it uses: the last 256.</summary>
    public const int MostLooks = 256;

    /// <summary>The largest circuit that is diagnosed, in fittings and in runs.</summary>
    public const int MostParts = 200;

    // How many places of a sort can be worked out in time, by the size of the circuit.
    private const int PlacesTimesParts = 4000;

    // Of "none of these", how often it is a slip of the pen in one reading. Judgement.
    private const double SlipShare = 0.3;

    /// <summary>Explains readings.</summary>
    /// <param name="model">The circuit as recorded.</param>
    /// <param name="readings">All readings of it so far, oldest first.</param>
    /// <param name="options">What to look for; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static DiagnosisResult Explain(
        CircuitModel? model,
        IReadOnlyList<MeasuredReading?>? readings,
        DiagnosisOptions? options = null,
        Assumptions? assumptions = null) =>
        ExplainInSteps(model, readings, options, assumptions).Last()!;

    /// <summary>
    /// The same in small steps, for whoever must not be kept from other work meanwhile: it is worked on while the steps are gone
    /// through, and giving up is to go through no more of them.
    /// </summary>
    /// <param name="model">The circuit as recorded.</param>
    /// <param name="readings">All readings of it so far, oldest first.</param>
    /// <param name="options">What to look for; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    /// <returns>Null for every step but the last, which is the result.</returns>
    public static IEnumerable<DiagnosisResult?> ExplainInSteps(
        CircuitModel? model,
        IReadOnlyList<MeasuredReading?>? readings,
        DiagnosisOptions? options = null,
        Assumptions? assumptions = null)
    {
        if (Begin(model, readings, options, assumptions, out var refusal) is not { } steps) return [Refused(refusal)];
        return steps.Select(circuit => circuit?.Result);
    }

    /// <summary>Weighs all that could explain readings; null where the circuit cannot be worked out.</summary>
    internal static WeighedCircuit? Weigh(
        CircuitModel? model, IReadOnlyList<MeasuredReading?>? readings, DiagnosisOptions? options,
        Assumptions? assumptions, out CannotExpect? refusal) =>
        Begin(model, readings, options, assumptions, out refusal)?.Last();

    /// <summary>
    /// Weighs all that could explain readings, while its steps are gone through; null where the circuit cannot be worked out.
    /// </summary>
    /// <returns>Null for every step but the last.</returns>
    internal static IEnumerable<WeighedCircuit?>? Begin(
        CircuitModel? model, IReadOnlyList<MeasuredReading?>? readings, DiagnosisOptions? options,
        Assumptions? assumptions, out CannotExpect? refusal)
    {
        refusal = TooLarge(model);
        if (refusal is not null || CircuitPlan.TryLay(model, assumptions, out refusal) is not { } plan) return null;
        if (plan.Solve([], [], out refusal) is not { } sound) return null;
        var evidence = Evidence.Of(readings, plan.Model, sound);
        var weigher = new Weigher(plan, evidence, sound);
        if (weigher.Observer.Observe(sound, []) is not { } seen) return null;
        return Steps(plan, options ?? DiagnosisOptions.Default, evidence, weigher, sound, seen);
    }

    private static IEnumerable<WeighedCircuit?> Steps(
        CircuitPlan plan, DiagnosisOptions options, Evidence evidence, Weigher weigher, ICircuitState sound,
        Observation seen)
    {
        foreach (var _ in WeighAll(plan, options, evidence, weigher, sound, seen)) yield return null;
        List<WeighedHypothesis> ranked = Ranked(weigher), kept = [];
        foreach (var one in ranked.Where(IsKept))
        {
            if (weigher.Complete(one)) kept.Add(one);
            yield return null;
        }

        yield return Close(plan, evidence, sound, ranked, kept);
    }

    private static IEnumerable<int> WeighAll(
        CircuitPlan plan, DiagnosisOptions options, Evidence evidence, Weigher weigher, ICircuitState sound,
        Observation seen)
    {
        var parts = plan.Model.Fittings.Length + plan.Model.Runs.Length;
        var alike = new AlikePlaces(
            plan, evidence, weigher.Observer, seen, Math.Max(4, PlacesTimesParts / (parts + 1)));
        FaultScope? scope = null;
        foreach (var step in ScopeOf.Circuit(plan, options, evidence, alike))
        {
            scope = step;
            yield return 0;
        }

        FaultDefinition? pairs = null;
        foreach (var fault in FaultCatalogue.Default.Concat(options.MoreFaults.OrEmpty()))
        {
            if (fault is null || !fault.Drives.OrEmpty().Contains(plan.Model.Drive)) continue;
            var prior = options.PriorOf(fault);
            if (!(prior > 0)) continue;
            if (fault.Kind == FaultKind.NoneOfThese) WeighNone(fault, prior, evidence, weigher, sound);
            else if (fault.Kind == FaultKind.TwoFittingsOfOtherWattage) pairs = fault;
            else foreach (var weighed in weigher.Weigh(fault, prior, fault.Cases(scope!))) yield return weighed;
        }

        if (pairs is null) yield break;
        foreach (var weighed in PairScreen.Weigh(weigher, pairs, options.PriorOf(pairs), evidence, seen, plan.Model.Fittings.Length)) yield return weighed;
    }

    private static void WeighNone(
        FaultDefinition fault, double prior, Evidence evidence, Weigher weigher, ICircuitState sound)
    {
        var rows = evidence.Rows.Length;
        var slips = rows >= 2 ? SlipShare : 0;
        var one = new FaultCase(1);
        weigher.Add(new WeighedHypothesis
        {
            Definition = fault,
            Case = one,
            LogWeight = Math.Log(prior * (1 - slips))
                + evidence.Rows.Sum(row => row.LogBroad) - (evidence.Lamps.Length * Math.Log(2)),
        });
        for (var i = 0; i < rows && slips > 0; i++)
        {
            if (weigher.Observer.Observe(sound, [], without: i) is not { } seen) continue;
            weigher.Add(new WeighedHypothesis
            {
                Definition = fault,
                Case = one,
                SlipRow = i,
                State = sound,
                Seen = seen,
                LogWeight = Math.Log(prior * slips / rows) + seen.LogDensity,
            });
        }
    }

    private static List<WeighedHypothesis> Ranked(Weigher weigher)
    {
        var total = new LogTotal();
        foreach (var one in weigher.All) total.Add(one.LogWeight);
        foreach (var one in weigher.All) one.Probability = Math.Exp(one.LogWeight - total.Log);
        return [.. weigher.All.OrderByDescending(one => one.LogWeight)];
    }

    private static WeighedCircuit Close(
        CircuitPlan plan, Evidence evidence, ICircuitState sound, List<WeighedHypothesis> ranked,
        List<WeighedHypothesis> kept)
    {
        var result = Ranking.Rank(plan, evidence, sound, kept, ranked);
        var sum = kept.Sum(one => one.Probability);
        foreach (var one in kept) one.Probability /= sum;
        return new WeighedCircuit(plan, evidence, new Broad(plan.Model, sound), [.. kept], result);
    }

    // "None of these" is always said.
    private static bool IsKept(WeighedHypothesis one) =>
        one.Probability >= Ranking.LeastProbability
        || (one.Kind == FaultKind.NoneOfThese && one.SlipRow < 0);

    private static CannotExpect? TooLarge(CircuitModel? model) =>
        model is not null && (model.Fittings.OrEmpty().Length > MostParts || model.Runs.OrEmpty().Length > MostParts)
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
        return new DiagnosisResult([none], refusal, 0) { Groups = [new FaultGroup(1, [0], 1, none.What)] };
    }
}
