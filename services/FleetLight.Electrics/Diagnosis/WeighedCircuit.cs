using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A circuit's faults weighed against all readings so far, and what each foretells of one more.</summary>
internal sealed class WeighedCircuit
{
    // Share of the meter's variance that a repeat at the same place has in common with the first.
    private const double CommonShare = Evidence.CommonShare;

    // A hypothesis has a state and one beside it.
    private const int MostRemembered = 4;

    private readonly Evidence evidence;
    private readonly Broad broad;
    private readonly double[] parts;
    private readonly Dictionary<ICircuitState, double[]> rowMoves = new(ReferenceEqualityComparer.Instance);

    internal WeighedCircuit(
        CircuitPlan plan, Evidence evidence, Broad broad, ImmutableArray<WeighedHypothesis> hypotheses,
        DiagnosisResult result)
    {
        this.evidence = evidence;
        this.broad = broad;
        Plan = plan;
        Hypotheses = hypotheses;
        Result = result;
        parts = new double[plan.Inputs.Length];
    }

    /// <summary>The circuit.</summary>
    public CircuitPlan Plan { get; }

    /// <summary>
    /// The hypotheses, likeliest first; their probabilities sum to 1. Those below <see cref="Ranking.LeastProbability"/> are
    /// left out.
    /// </summary>
    public ImmutableArray<WeighedHypothesis> Hypotheses { get; }

    /// <summary>The same as explanations and groups.</summary>
    public DiagnosisResult Result { get; }

    /// <summary>
    /// What a hypothesis foretells of one more reading, given all readings so far: what they say of the inputs that they
    /// share with it, and of the hypothesis's free figure, is taken into account. The meter is taken to be used rightly.
    /// </summary>
    /// <remarks>Not safe for several threads at once.</remarks>
    /// <param name="hypothesis">One of <see cref="Hypotheses"/>.</param>
    /// <param name="place">Where.</param>
    /// <param name="quantity">What.</param>
    /// <param name="meter">With what; the stated default of the quantity if null.</param>
    public Foresight Foresee(
        WeighedHypothesis hypothesis, string place, MeasuredQuantity quantity, MeterAccuracy? meter = null)
    {
        if (quantity == MeasuredQuantity.FittingLit) return ForeseeLit(hypothesis, place);
        if (hypothesis is not { State: { } state, Seen: { } seen })
        {
            var (mean, variance) = broad.Spread(place, quantity);
            return new Foresight(true, mean, variance);
        }

        var here = Conditioned(state, seen, hypothesis.Changes, hypothesis.Case.Reading, place, quantity, meter);
        if (!here.Known || hypothesis is not { Beside: { } beside, SeenBeside: { } seenBeside }) return here;
        var moved = Conditioned(
            beside, seenBeside, hypothesis.Changes, hypothesis.Case.Reading, place, quantity, meter);
        if (!moved.Known) return here;
        var step = moved.Mean - here.Mean;
        return here with { Variance = here.Variance + (step * step) };
    }

    private Foresight ForeseeLit(WeighedHypothesis hypothesis, string place)
    {
        var fitting = Evidence.IndexOf(Plan.Model, place);
        if (fitting < 0) return default;
        if (hypothesis.State is not { } state) return new Foresight(true, 0.5, 0);
        var lit = Observer.LitProbability(state, fitting);
        if (hypothesis.Beside is { } beside) lit = (lit + Observer.LitProbability(beside, fitting)) / 2;
        return new Foresight(true, lit, 0);
    }

    // The normal distribution of the new reading, conditioned on the rows.
    private Foresight Conditioned(
        ICircuitState state, Observation seen, ImmutableArray<CircuitChange> changes, int reading,
        string place, MeasuredQuantity quantity, MeterAccuracy? meter)
    {
        var insulation = quantity == MeasuredQuantity.MegohmsInsulation;
        var with = meter ?? MeterAccuracy.DefaultFor(quantity);
        var wet = Insulation.Of(changes);
        double mean, variance;
        if (insulation)
        {
            Array.Clear(parts);
            mean = Math.Max(wet.LogMegohms, Math.Log(Evidence.LeastMegohms(with)));
            variance = wet.SharedVariance + Insulation.OwnVariance;
        }
        else
        {
            if (!state.Predicts(place, quantity)) return default;
            mean = state.Predict(place, quantity, parts);
            if (!double.IsFinite(mean)) return default;
            variance = Observer.FloorVariance(quantity, mean);
            foreach (var part in parts) variance += part * part;
        }

        variance += Evidence.MeterVariance(quantity, with, insulation ? Math.Exp(mean) : mean);
        var count = evidence.Rows.Length;
        var moves = RowMoves(state, changes, reading);
        Span<double> common = stackalloc double[count];
        Span<double> rest = stackalloc double[count];
        for (var i = 0; i < count; i++)
        {
            var row = evidence.Rows[i];
            rest[i] = row.Value - seen.Mean[i];
            common[i] = Common(
                moves, i, MeterSlip.Of(changes, row.Quantity, Touches(reading, i)), place, quantity, wet);
        }

        Cholesky.Whiten(seen.Factor, rest, count);
        variance -= Cholesky.Whiten(seen.Factor, common, count);
        for (var i = 0; i < count; i++) mean += common[i] * rest[i];
        return new Foresight(true, mean, Math.Max(variance, 0));
    }

    private double Common(
        double[] moves, int i, MeterSlip slip, string place, MeasuredQuantity quantity, Insulation wet)
    {
        var row = evidence.Rows[i];
        double common = row.Quantity == quantity && row.Place == place && slip.Factor == 1
            ? CommonShare * row.MeterVariance
            : 0;
        if (row.Quantity == MeasuredQuantity.MegohmsInsulation)
            return quantity == row.Quantity ? common + wet.SharedVariance : 0;
        var own = moves.AsSpan(i * parts.Length, parts.Length);
        for (var k = 0; k < parts.Length; k++) common += parts[k] * own[k];
        return common;
    }

    // How each row moves with the inputs in a state. Many readings are foreseen in the same one, one after the other.
    private double[] RowMoves(ICircuitState state, ImmutableArray<CircuitChange> changes, int reading)
    {
        if (rowMoves.TryGetValue(state, out var known)) return known;
        if (rowMoves.Count >= MostRemembered) rowMoves.Clear();
        var moves = new double[evidence.Rows.Length * parts.Length];
        for (var i = 0; i < evidence.Rows.Length; i++)
        {
            var row = evidence.Rows[i];
            var own = moves.AsSpan(i * parts.Length, parts.Length);
            if (row.Quantity == MeasuredQuantity.MegohmsInsulation) continue;
            var mean = state.Predict(row.Place, row.Quantity, own);
            if (!double.IsFinite(mean)) own.Clear();
            else MeterSlip.Of(changes, row.Quantity, Touches(reading, i)).Apply(ref mean, own);
        }

        return rowMoves[state] = moves;
    }

    private bool Touches(int reading, int row) => reading < 0 || evidence.RowOf[reading] == row;
}

/// <summary>What is foretold of one more reading, the meter's error included.</summary>
/// <param name="Known">Whether anything is foretold there.</param>
/// <param name="Mean">
/// The mean: in the unit of the quantity for volts, current and loop resistance; of the logarithm in MΩ for insulation; the
/// probability of "lit" for a fitting.
/// </param>
/// <param name="Variance">The variance in the square of the same; 0 for a fitting.</param>
internal readonly record struct Foresight(bool Known, double Mean, double Variance);
