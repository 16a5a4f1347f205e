using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What a simulation says a circuit should read. A plain record that can be stored as JSON.</summary>
public sealed record SimulatedReadings
{
    /// <summary>Why nothing was simulated; null where something was.</summary>
    public CannotExpect? Refusal { get; init; }

    /// <summary>The version of the model that worked it out.</summary>
    public int ModelVersion { get; init; } = Expected.ModelVersion;

    /// <summary>The seed of the draws.</summary>
    public long Seed { get; init; }

    /// <summary>Trials made.</summary>
    public int Trials { get; init; }

    /// <summary>
    /// Share of the trials in which the circuit has no operating point (its voltage collapses), 0 to 1. The quantities are
    /// those of the others.
    /// </summary>
    public double ShareWithoutOperatingPoint { get; init; }

    /// <summary>What was worked out, quantity by quantity; empty where no trial had an operating point.</summary>
    public ImmutableArray<SimulatedQuantity> Quantities { get; init; } = [];

    /// <summary>Whether more trials would change nothing within the digits asked for.</summary>
    public bool IsStable => !Quantities.IsEmpty && Quantities.All(q => q.IsStable);

    /// <summary>
    /// Whether the first order of <see cref="Expected"/> is validated for every quantity, and every trial has an operating
    /// point.
    /// </summary>
    public bool FirstOrderIsEnough =>
        !Quantities.IsEmpty && ShareWithoutOperatingPoint == 0 && Quantities.All(q => q.FirstOrderIsEnough);
}

/// <summary>What a simulation says of one quantity, in its unit, beside the first order.</summary>
/// <param name="Place">"driver", a fitting id or a box id.</param>
/// <param name="Quantity">The quantity.</param>
/// <param name="FirstOrder">What first-order propagation says (GUM), with its budget.</param>
/// <param name="Mean">Mean of the trials: the best estimate by JCGM 101.</param>
/// <param name="StandardUncertainty">Their standard deviation.</param>
/// <param name="Low95">Lower end of the 95 % interval that leaves as much on either side.</param>
/// <param name="High95">Its upper end.</param>
/// <param name="ShortestLow95">Lower end of the shortest 95 % interval.</param>
/// <param name="ShortestHigh95">Its upper end.</param>
public sealed record SimulatedQuantity(
    string Place,
    MeasuredQuantity Quantity,
    Estimate FirstOrder,
    double Mean,
    double StandardUncertainty,
    double Low95,
    double High95,
    double ShortestLow95,
    double ShortestHigh95)
{
    /// <summary>Numerical tolerance: half a unit of the last significant digit of the standard uncertainty.</summary>
    public double Tolerance { get; init; }

    /// <summary>Whether more trials would change nothing that matters beside a fifth of the tolerance.</summary>
    public bool IsStable { get; init; }

    /// <summary>
    /// Whether both ends of the first-order 95 % interval are within the tolerance of the simulated ones (validation by JCGM
    /// 101, clause 8).
    /// </summary>
    public bool FirstOrderIsEnough { get; init; }

    /// <summary>
    /// How far second-order terms move the mean from the value at the best estimates; null where they are not worked out.
    /// </summary>
    public double? SecondOrderShift { get; init; }

    /// <summary>Standard uncertainty with second-order terms (note to GUM 5.1.2); null where not worked out.</summary>
    public double? SecondOrderStandardUncertainty { get; init; }

    internal static SimulatedQuantity Of(
        string place, MeasuredQuantity quantity, Estimate firstOrder, SampledOutput sampled, int digits)
    {
        var tolerance = MonteCarlo.Tolerance(sampled.StandardUncertainty, digits);
        // Where there is no uncertainty at all, rounding remains.
        var near = tolerance + (1e-9 * Math.Abs(sampled.Mean));
        return new SimulatedQuantity(
            place, quantity, firstOrder, sampled.Mean, sampled.StandardUncertainty, sampled.Low95, sampled.High95,
            sampled.ShortestLow95, sampled.ShortestHigh95)
        {
            Tolerance = tolerance,
            IsStable = sampled.IsStable,
            FirstOrderIsEnough = Math.Abs(firstOrder.Low95 - sampled.Low95) <= near
                && Math.Abs(firstOrder.High95 - sampled.High95) <= near,
        };
    }
}
