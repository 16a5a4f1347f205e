using System.Collections.Immutable;

namespace FleetLight.Electrics.Tests.Diagnoses;

/// <summary>
/// Draws what was really built to a design, with a fault in it, and what a meter shows of that: every uncertain input is
/// drawn from its own distribution and the circuit worked out anew, without any linear approximation.
/// </summary>
internal sealed class Drawn(int seed)
{
    private readonly Random random = new(seed);

    /// <summary>A whole number from 0 to below a limit.</summary>
    public int Next(int below) => random.Next(below);

    /// <summary>A number from a to b, its logarithm spread evenly.</summary>
    public double Between(double a, double b) => a * Math.Pow(b / a, random.NextDouble());

    /// <summary>Reads one circuit; null where it has no operating point.</summary>
    public MeasuredReading[]? Read(
        CircuitModel model, ImmutableArray<CircuitChange> changes,
        IEnumerable<(string Place, MeasuredQuantity Quantity)> at)
    {
        var plan = CircuitPlan.TryLay(model, null, out _)!;
        var deviations = plan.Inputs.Select(input => input.IsRectangular ? Rectangular() : Normal()).ToArray();
        if (plan.Solve(changes, deviations) is not { } state) return null;
        var parts = new double[plan.Inputs.Length];
        var megohms = Megohms(changes);
        return [.. at.Select(one => new MeasuredReading(one.Place, one.Quantity, one.Quantity switch
        {
            MeasuredQuantity.FittingLit => Lit(state, model, one.Place) ? 1 : 0,
            MeasuredQuantity.MegohmsInsulation => megohms * Math.Exp(0.2 * Normal()),
            _ => Shown(one.Quantity, state.Predict(one.Place, one.Quantity, parts), changes),
        }))];
    }

    // Once in fifty it is noted wrongly.
    private bool Lit(ICircuitState state, CircuitModel model, string place)
    {
        var fitting = model.Fittings.IndexOf(model.Fittings.Single(f => f.Id == place));
        return state.LitShare(fitting) > 0.03 != (random.NextDouble() < 0.02);
    }

    // Sound: 100 MΩ within a factor of 5; wet: the leak within a factor of 3; a touch: next to nothing.
    private double Megohms(ImmutableArray<CircuitChange> changes) =>
        changes.OfType<CoresBridged>().FirstOrDefault() switch
        {
            null => 100 * Math.Exp(Math.Log(5) * Normal()),
            { Ohms: < 10 } => 0.01,
            { Ohms: var ohms } => ohms / 1e6 * Math.Exp(Math.Log(3) * Normal()),
        };

    private double Shown(MeasuredQuantity quantity, double value, ImmutableArray<CircuitChange> changes)
    {
        foreach (var change in changes)
        {
            if (change is MeterOnWrongRange range && range.Quantity == quantity) value *= range.Factor;
            if (change is MeterLeadsReversed && quantity != MeasuredQuantity.LoopOhms) value = -value;
        }

        var meter = MeterAccuracy.DefaultFor(quantity);
        return value + (meter.LimitAt(value) * ((2 * random.NextDouble()) - 1));
    }

    private double Rectangular() => Math.Sqrt(3) * ((2 * random.NextDouble()) - 1);

    private double Normal() =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
