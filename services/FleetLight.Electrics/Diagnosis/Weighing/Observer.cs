using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Tells what readings a circuit's state would give: volts, current and loop resistance from the state, insulation
/// resistance and lit fittings by the stated models, and slips with the meter on top.
/// </summary>
internal sealed class Observer
{
    /// <summary>Chance that a dark fitting is passed by and noted as lit. Judgement.</summary>
    public const double LitSlip = 0.02;

    /// <summary>Chance that a lit fitting is noted as dark, at which one looks twice. Judgement.</summary>
    public const double DarkSlip = 0.004;

    /// <summary>Share of its rating below which a fitting counts as dark in daylight. Judgement.</summary>
    public const double DarkShare = 0.03;

    // What no model holds: contact volts, the meter's offset; and stray volts where next to none are predicted. Judgement.
    private const double FloorVolts = 0.02;
    private const double StrayVolts = 0.1;
    private const double FloorMilliamps = 0.5;
    private const double FloorOhms = 0.02;

    private readonly Evidence evidence;
    private readonly int inputs;
    private readonly double[] parts;

    public Observer(CircuitPlan plan, Evidence evidence)
    {
        this.evidence = evidence;
        inputs = plan.Inputs.Length;
        parts = new double[evidence.Rows.Length * inputs];
    }

    /// <summary>Whether a quantity is predicted by a circuit's state.</summary>
    public static bool IsFromState(MeasuredQuantity quantity) => quantity is
        MeasuredQuantity.VoltsDc or MeasuredQuantity.Milliamps or MeasuredQuantity.LoopOhms;

    /// <summary>What the evidence would be; null where it cannot be worked out.</summary>
    /// <param name="state">The circuit.</param>
    /// <param name="changes">How it differs from its record, with the meter's slips.</param>
    /// <param name="reading">The one reading that a slip of the meter touches; −1 for all of its quantity.</param>
    /// <param name="without">A row that is taken for a slip of the pen and may be anything; −1 for none.</param>
    public Observation? Observe(
        ICircuitState state, ImmutableArray<CircuitChange> changes, int reading = -1, int without = -1)
    {
        var count = evidence.Rows.Length;
        var mean = new double[count];
        var covariance = new double[count * count];
        var insulation = Insulation.Of(changes);
        for (var i = 0; i < count; i++)
        {
            var own = parts.AsSpan(i * inputs, inputs);
            mean[i] = PredictRow(state, i, own, insulation);
            var slip = MeterSlip.Of(changes, evidence.Rows[i].Quantity, reading < 0 || evidence.RowOf[reading] == i);
            slip.Apply(ref mean[i], own);
            for (var j = 0; j <= i; j++)
            {
                var other = parts.AsSpan(j * inputs, inputs);
                covariance[(i * count) + j] = Dot(own, other) + Shared(i, j, insulation);
            }

            covariance[(i * count) + i] += evidence.Rows[i].MeterVariance + slip.Variance + Floor(i, mean[i]);
        }

        for (var i = 0; i < count; i++)
            if (i == without || !double.IsFinite(mean[i])) Spread(i, mean, covariance);
        return Observation.TryClose(evidence, mean, covariance, LogLit(state));
    }

    /// <summary>Probability that a fitting is noted as lit.</summary>
    public static double LitProbability(ICircuitState state, int fitting) =>
        state.LitShare(fitting) > DarkShare ? 1 - DarkSlip : LitSlip;

    /// <summary>Variance that no model holds, at a predicted value in the scale of the quantity.</summary>
    public static double FloorVariance(MeasuredQuantity quantity, double value) => quantity switch
    {
        MeasuredQuantity.VoltsDc => (FloorVolts * FloorVolts) + (StrayVolts * StrayVolts * Math.Exp(-value * value)),
        MeasuredQuantity.Milliamps => FloorMilliamps * FloorMilliamps,
        MeasuredQuantity.LoopOhms => FloorOhms * FloorOhms,
        _ => 0,
    };

    // Nothing is predicted: the reading may be anything, with the density that it has then.
    private void Spread(int row, double[] mean, double[] covariance)
    {
        var count = mean.Length;
        for (var k = 0; k < row; k++) covariance[(row * count) + k] = 0;
        for (var k = row + 1; k < count; k++) covariance[(k * count) + row] = 0;
        mean[row] = evidence.Rows[row].Value;
        covariance[(row * count) + row] = Math.Exp(-2 * evidence.Rows[row].LogBroad) / (2 * Math.PI);
    }

    private double PredictRow(ICircuitState state, int i, Span<double> own, Insulation insulation)
    {
        var row = evidence.Rows[i];
        if (IsFromState(row.Quantity)) return state.Predict(row.Place, row.Quantity, own);
        own.Clear();
        return Math.Max(insulation.LogMegohms, row.LogLeast);
    }

    // The state of the insulation is one for the whole circuit.
    private double Shared(int i, int j, Insulation insulation) =>
        evidence.Rows[i].Quantity == MeasuredQuantity.MegohmsInsulation
        && evidence.Rows[j].Quantity == MeasuredQuantity.MegohmsInsulation
            ? insulation.SharedVariance
            : 0;

    private double Floor(int i, double value) =>
        evidence.Rows[i].Quantity == MeasuredQuantity.MegohmsInsulation
            ? Insulation.OwnVariance
            : FloorVariance(evidence.Rows[i].Quantity, value);

    private double LogLit(ICircuitState state)
    {
        double log = 0;
        foreach (var lamp in evidence.Lamps)
        {
            var lit = LitProbability(state, lamp.Fitting);
            log += Math.Log((lamp.Lit ? lit : 0) + (lamp.Dark ? 1 - lit : 0));
        }

        return log;
    }

    private static double Dot(ReadOnlySpan<double> one, ReadOnlySpan<double> other)
    {
        double sum = 0;
        for (var k = 0; k < one.Length; k++) sum += one[k] * other[k];
        return sum;
    }
}
