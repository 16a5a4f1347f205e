using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Says which reading to take next, or that enough is known. Advice, never a certificate.</summary>
/// <remarks>
/// Of all that can be measured, that comes first which is expected to tell most per minute of work about which
/// explanation is true: the mutual information between explanation and reading, under the diagnosis of the readings
/// so far. Explanations that need the same done at the same place count as one, since nothing is gained by telling
/// them apart. A reading that has been taken is proposed once more only where a slip with it is likely, for the same
/// meter errs in the same way.
/// </remarks>
public static class NextMeasurement
{
    /// <summary>The most places that are looked at.</summary>
    public const int MostPlaces = 400;

    private const double LeastProbability = 1e-4;
    private const int MostHypotheses = 400;

    // From this probability of a slip with meter or pen on, taking a reading once more is worth considering.
    private const double LeastDoubt = 0.05;

    /// <summary>Ranks what can be measured.</summary>
    /// <param name="model">The circuit as recorded.</param>
    /// <param name="readings">All readings of it so far, oldest first.</param>
    /// <param name="places">
    /// The places where a meter can be put, as built; if null, the driver at hand, every fitting to be opened, and
    /// every other end of a run as a box with its lid at the surface.
    /// </param>
    /// <param name="options">When to stop and what measuring takes; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    public static MeasuringAdvice Of(
        CircuitModel? model,
        IReadOnlyList<MeasuredReading?>? readings,
        IReadOnlyList<MeasuringPlace?>? places = null,
        MeasuringOptions? options = null,
        Assumptions? assumptions = null) =>
        InSteps(model, readings, places, options, assumptions).Last()!;

    /// <summary>
    /// The same in small steps, for whoever must not be kept from other work meanwhile: it is worked on while the steps are gone
    /// through, and giving up is to go through no more of them.
    /// </summary>
    /// <param name="model">The circuit as recorded.</param>
    /// <param name="readings">All readings of it so far, oldest first.</param>
    /// <param name="places">The places where a meter can be put, as for <see cref="Of"/>.</param>
    /// <param name="options">When to stop and what measuring takes; the stated defaults if null.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    /// <returns>Null for every step but the last, which is the advice.</returns>
    public static IEnumerable<MeasuringAdvice?> InSteps(
        CircuitModel? model,
        IReadOnlyList<MeasuredReading?>? readings,
        IReadOnlyList<MeasuringPlace?>? places = null,
        MeasuringOptions? options = null,
        Assumptions? assumptions = null)
    {
        var wanted = (options ?? MeasuringOptions.Default).Sane();
        if (Diagnosis.Begin(model, readings, wanted.Diagnosis, assumptions, out var refusal) is not { } steps)
        {
            yield return new MeasuringAdvice(Diagnosis.Explain(model, readings, wanted.Diagnosis, assumptions))
            {
                Stop = new StopMeasuring(
                    StopReason.NothingKnown, refusal?.Text ?? "Nothing is known of the circuit.", 0),
            };
            yield break;
        }

        WeighedCircuit? circuit = null;
        foreach (var step in steps)
        {
            circuit = step;
            yield return null;
        }

        var open = OpenReadings.Of(model, readings, places, wanted.Effort);
        foreach (var step in Advise(circuit!, open, wanted)) yield return step;
    }

    private static IEnumerable<MeasuringAdvice?> Advise(WeighedCircuit circuit, ImmutableArray<OpenReading> open, MeasuringOptions options)
    {
        WeighedHypothesis[]? hypotheses = null;
        foreach (var step in PlaceByPlace.Of(circuit, LeastProbability, MostHypotheses))
        {
            hypotheses = step;
            yield return null;
        }

        var isDoubted = hypotheses!.Where(IsSlip).Sum(h => h.Probability) >= LeastDoubt * hypotheses!.Sum(h => h.Probability);
        OpenReading[] asked = [.. open.Where(o => o.TimesTaken == 0 || (o.TimesTaken == 1 && isDoubted))];
        Question[]? questions = null;
        foreach (var step in Question.Ask(circuit, hypotheses!, asked))
        {
            questions = step;
            yield return null;
        }

        foreach (var step in new Weighed(circuit, hypotheses!, questions!, options).Advise()) yield return step;
    }

    private static bool IsSlip(WeighedHypothesis hypothesis) => hypothesis.SlipRow >= 0
        || hypothesis.Kind is FaultKind.MeterOnWrongRange or FaultKind.MeterLeadsReversed;

    // One question to the circuit as it stands.
    private sealed class Weighed
    {
        private readonly WeighedCircuit circuit;
        private readonly MeasuringOptions options;
        private readonly WeighedHypothesis[] hypotheses;
        private readonly double[] weights;
        private readonly FaultClasses classes;
        private readonly Question[] questions;

        public Weighed(WeighedCircuit circuit, WeighedHypothesis[] hypotheses, Question[] asked, MeasuringOptions options)
        {
            this.circuit = circuit;
            this.hypotheses = hypotheses;
            this.options = options;
            var total = hypotheses.Sum(h => h.Probability);
            weights = Array.ConvertAll(hypotheses, h => h.Probability / total);
            classes = FaultClasses.Of(circuit.Plan.Model, hypotheses, weights);
            questions = [.. asked.Where(q => q.IsForetold(hypotheses))];
        }

        // A question with each step; the advice is the last.
        public IEnumerable<MeasuringAdvice?> Advise()
        {
            var words = new MeasuringWording(circuit.Plan.Model, hypotheses, classes);
            var all = new List<MeasuringCandidate>(questions.Length);
            foreach (var question in questions)
            {
                all.Add(words.Candidate(question, question.Bits(weights, classes.OfHypothesis, classes.Count)));
                yield return null;
            }

            // Only where no single explanation is likely enough is it asked which of the others go with the likeliest.
            var lead = classes.Likeliest;
            var group = new List<int> { lead };
            foreach (var other in classes.Probabilities[lead] >= options.EnoughProbability ? [] : classes.ByProbability.Where(c => c != lead))
            {
                if (!classes.AreToldApart(lead, other, questions)) group.Add(other);
                yield return null;
            }

            var candidates = all
                .OrderByDescending(c => c.BitsPerHour).ThenBy(c => c.EffortMinutes)
                .ThenBy(c => c.Places[0], StringComparer.Ordinal).ThenBy(c => c.Quantity)
                .ToImmutableArray();
            yield return new MeasuringAdvice(circuit.Result)
            {
                Candidates = candidates,
                OpenBits = InformationGain.Entropy(classes.Probabilities),
                Stop = Stop(words, candidates, lead, [.. group]),
            };
        }

        private StopMeasuring? Stop(MeasuringWording words, ImmutableArray<MeasuringCandidate> candidates, int lead, ImmutableArray<int> group)
        {
            var probability = classes.Probabilities[lead];
            if (probability >= options.EnoughProbability)
                return new(StopReason.OneExplanation, words.OneExplanation(lead, probability), probability);
            probability = group.Sum(c => classes.Probabilities[c]);
            if (probability >= options.EnoughProbability)
                return new(StopReason.OneGroup, words.OneGroup(group, probability), probability);
            return candidates.IsEmpty || candidates[0].BitsPerHour < options.LeastBitsPerHour
                ? new StopMeasuring(
                    StopReason.NothingTellsEnough, words.NothingTells(lead, candidates), classes.Probabilities[lead])
                : null;
        }
    }
}
