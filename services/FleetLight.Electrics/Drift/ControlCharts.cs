using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A point of a tabular CUSUM chart.</summary>
/// <param name="High">Sum of what lies above target and allowance, not below 0.</param>
/// <param name="Low">Sum of what lies below target and allowance, not below 0.</param>
/// <param name="Signals">Whether either is beyond the decision interval.</param>
public readonly record struct CusumPoint(double High, double Low, bool Signals);

/// <summary>A point of an EWMA chart.</summary>
/// <param name="Value">The exponentially weighted moving average.</param>
/// <param name="Low">Lower limit.</param>
/// <param name="High">Upper limit.</param>
/// <param name="Signals">Whether it is beyond a limit.</param>
public readonly record struct EwmaPoint(double Value, double Low, double High, bool Signals);

/// <summary>Charts that show small and slow changes in a row of values.</summary>
public static class ControlCharts
{
    /// <summary>The tabular CUSUM (Montgomery, section 9.1).</summary>
    /// <param name="values">The values in order.</param>
    /// <param name="target">What they should be.</param>
    /// <param name="allowance">K: half the change that matters, in their unit.</param>
    /// <param name="decision">H: the sum beyond which the chart signals, in their unit.</param>
    public static ImmutableArray<CusumPoint> Cusum(
        IReadOnlyList<double> values, double target, double allowance, double decision)
    {
        ArgumentNullException.ThrowIfNull(values);
        var points = ImmutableArray.CreateBuilder<CusumPoint>(values.Count);
        double high = 0, low = 0;
        foreach (var value in values)
        {
            high = Math.Max(0, high + value - target - allowance);
            low = Math.Max(0, low + target - value - allowance);
            points.Add(new(high, low, high > decision || low > decision));
        }

        return points.MoveToImmutable();
    }

    /// <summary>The EWMA chart (Montgomery, section 9.2).</summary>
    /// <param name="values">The values in order.</param>
    /// <param name="target">What they should be, where the average starts.</param>
    /// <param name="deviation">Standard deviation of a value.</param>
    /// <param name="weight">Weight of the newest value, above 0 to 1.</param>
    /// <param name="width">Width of the limits, standard deviations of the average.</param>
    /// <param name="steady">
    /// Whether the limits are those of a long-run average from the start; otherwise they widen with the points.
    /// </param>
    public static ImmutableArray<EwmaPoint> Ewma(
        IReadOnlyList<double> values, double target, double deviation, double weight, double width, bool steady = false)
    {
        ArgumentNullException.ThrowIfNull(values);
        var points = ImmutableArray.CreateBuilder<EwmaPoint>(values.Count);
        var average = target;
        double forgotten = 1;
        foreach (var value in values)
        {
            average = (weight * value) + ((1 - weight) * average);
            forgotten *= (1 - weight) * (1 - weight);
            var half = width * deviation * Math.Sqrt(weight / (2 - weight) * (steady ? 1 : 1 - forgotten));
            points.Add(new(average, target - half, target + half, Math.Abs(average - target) > half));
        }

        return points.MoveToImmutable();
    }
}
