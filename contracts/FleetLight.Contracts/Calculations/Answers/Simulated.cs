namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>What a simulation (Monte Carlo, JCGM 101) says a circuit should read, beside the first order.</summary>
public sealed record SimulatedFigures
{
    /// <summary>Seed of the draws, no unit.</summary>
    public required int Seed { get; init; }

    /// <summary>Number of trials made.</summary>
    public required int Trials { get; init; }

    /// <summary>Share of the trials in which the circuit has no operating point, %; the figures are those of the others.</summary>
    public required double WithoutOperatingPointPercent { get; init; }

    /// <summary>Whether more trials would change nothing within the digits asked for.</summary>
    public required bool IsStable { get; init; }

    /// <summary>
    /// Whether the first order is validated for every quantity, and every trial has an operating point (JCGM 101, clause 8).
    /// </summary>
    public required bool FirstOrderIsEnough { get; init; }

    /// <summary>What was worked out: at the driver, then volts at places in order, at most 64.</summary>
    public required IReadOnlyList<SimulatedFigure> Quantities { get; init; }
}

/// <summary>What a simulation says of one quantity.</summary>
public sealed record SimulatedFigure
{
    /// <summary>Where: <c>driver</c>, a fitting or another place.</summary>
    public required string Place { get; init; }

    /// <summary>What, and so the unit of every figure here.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>Mean of the trials: the best estimate by JCGM 101, in the unit of the quantity.</summary>
    public required double Mean { get; init; }

    /// <summary>Their standard deviation, in the unit of the quantity.</summary>
    public required double StandardUncertainty { get; init; }

    /// <summary>Lower end of the 95 % interval that leaves as much on either side, in the unit of the quantity.</summary>
    public required double Low { get; init; }

    /// <summary>Its upper end, in the unit of the quantity.</summary>
    public required double High { get; init; }

    /// <summary>Lower end of the shortest 95 % interval, in the unit of the quantity.</summary>
    public required double ShortestLow { get; init; }

    /// <summary>Its upper end, in the unit of the quantity.</summary>
    public required double ShortestHigh { get; init; }

    /// <summary>Half a unit of the last significant digit of the standard uncertainty, in the unit of the quantity.</summary>
    public required double Tolerance { get; init; }

    /// <summary>Whether more trials would change nothing that matters beside a fifth of the tolerance.</summary>
    public required bool IsStable { get; init; }

    /// <summary>Whether both ends of the first-order 95 % interval are within the tolerance of the simulated ones.</summary>
    public required bool FirstOrderIsEnough { get; init; }

    /// <summary>What first-order propagation says.</summary>
    public required EstimatedValue FirstOrder { get; init; }

    /// <summary>How far second-order terms move the mean, in the unit of the quantity; left out for large circuits.</summary>
    public double? SecondOrderShift { get; init; }

    /// <summary>Standard uncertainty with second-order terms (note to GUM 5.1.2), in the unit of the quantity.</summary>
    public double? SecondOrderStandardUncertainty { get; init; }
}
