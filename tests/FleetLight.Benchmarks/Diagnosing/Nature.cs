using System.Collections.Immutable;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>A built circuit with all its deviations drawn, and the meter that reads it.</summary>
internal sealed class Nature
{
    private readonly CircuitPlan plan;
    private readonly Chance chance;
    private readonly bool asStated;
    private readonly double insulation;

    /// <summary>Builds it.</summary>
    /// <param name="plan">The circuit as recorded.</param>
    /// <param name="chance">Chance.</param>
    /// <param name="asStated">
    /// Whether tolerances and meter are spread as stated, most of them rectangular; otherwise all are normal with the
    /// same standard uncertainty.
    /// </param>
    public Nature(CircuitPlan plan, Chance chance, bool asStated)
    {
        this.plan = plan;
        this.chance = chance;
        this.asStated = asStated;
        Deviations = [.. plan.Inputs.Select(input => chance.Deviation(asStated && input.IsRectangular))];
        insulation = chance.Deviation(false);
    }

    /// <summary>How far each input is from its best estimate, in standard uncertainties.</summary>
    public double[] Deviations { get; }

    /// <summary>The circuit with a fault; null where it has no operating point.</summary>
    public ICircuitState? Solve(ImmutableArray<CircuitChange> changes) => plan.Solve(changes, Deviations);

    /// <summary>What is written down.</summary>
    /// <param name="state">The circuit.</param>
    /// <param name="changes">How it differs, slips with the meter included.</param>
    /// <param name="touched">The reading that a slip touches; −1 for all of its quantity.</param>
    /// <param name="at">Number of this reading.</param>
    /// <param name="place">Where.</param>
    /// <param name="quantity">What.</param>
    public MeasuredReading Read(
        ICircuitState state, ImmutableArray<CircuitChange> changes, int touched, int at, string place,
        MeasuredQuantity quantity)
    {
        if (quantity == MeasuredQuantity.FittingLit)
            return new MeasuredReading(place, quantity, chance.Share() < Meter.Lit(plan, state, place) ? 1 : 0);
        var value = Meter.Shown(plan, state, place, quantity, changes, touched < 0 || touched == at, []);
        if (quantity == MeasuredQuantity.MegohmsInsulation)
        {
            var spread = Insulation.Of(changes);
            var own = chance.Deviation(false) * Math.Sqrt(Insulation.OwnVariance);
            value *= Math.Exp((insulation * Math.Sqrt(spread.SharedVariance)) + own);
        }

        var deviation = chance.Deviation(asStated);
        value += deviation * Meter.Error(quantity, value);
        return new MeasuredReading(
            place, quantity,
            quantity == MeasuredQuantity.MegohmsInsulation ? Math.Max(value, Meter.LeastMegohms) : value);
    }
}

/// <summary>What a meter shows of a circuit, its error apart.</summary>
internal static class Meter
{
    /// <summary>An insulation tester shows nothing below its last digit, MΩ.</summary>
    public const double LeastMegohms = 0.01;

    /// <summary>Standard uncertainty of the usual meter at a value, in the unit of the quantity.</summary>
    public static double Error(MeasuredQuantity quantity, double value) =>
        MeterAccuracy.DefaultFor(quantity).StandardUncertaintyAt(value);

    /// <summary>Probability that a fitting is written down as lit, as stated for the diagnosis.</summary>
    public static double Lit(CircuitPlan plan, ICircuitState state, string fitting)
    {
        for (var i = 0; i < plan.Model.Fittings.Length; i++)
            if (plan.Model.Fittings[i].Id == fitting) return Observer.LitProbability(state, i);
        return 0.5;
    }

    /// <summary>The value shown, with slips of the meter.</summary>
    /// <param name="plan">The circuit as recorded.</param>
    /// <param name="state">The circuit as it is.</param>
    /// <param name="place">Where.</param>
    /// <param name="quantity">What.</param>
    /// <param name="changes">How it differs, slips with the meter included.</param>
    /// <param name="touched">Whether a slip touches this reading.</param>
    /// <param name="parts">Receives how the value moves with each input; empty where nobody asks.</param>
    public static double Shown(
        CircuitPlan plan, ICircuitState state, string place, MeasuredQuantity quantity,
        ImmutableArray<CircuitChange> changes, bool touched, Span<double> parts)
    {
        var own = parts.IsEmpty ? new double[plan.Inputs.Length] : parts;
        var factor = touched ? Factor(changes, quantity) : 1;
        if (quantity == MeasuredQuantity.MegohmsInsulation)
        {
            own.Clear();
            return factor * Math.Exp(Insulation.Of(changes).LogMegohms);
        }

        var value = state.Predict(place, quantity, own);
        for (var i = 0; i < own.Length; i++) own[i] *= factor;
        return value * factor;
    }

    private static double Factor(ImmutableArray<CircuitChange> changes, MeasuredQuantity quantity)
    {
        double factor = 1;
        foreach (var change in changes)
        {
            if (change is MeterOnWrongRange slip && slip.Quantity == quantity) factor *= slip.Factor;
            if (change is MeterLeadsReversed && quantity is MeasuredQuantity.VoltsDc or MeasuredQuantity.Milliamps)
                factor = -factor;
        }

        return factor;
    }
}
