using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>One explanation of the readings, with what it predicts. Advice, never a certificate.</summary>
/// <param name="Kind">What kind of fault.</param>
/// <param name="What">What and where, in a sentence for an installer.</param>
/// <param name="WhatToDo">What to do about it, safely.</param>
/// <param name="Probability">
/// Probability given all readings used, 0 to 1, under the stated priors; those of all explanations sum to at most 1.
/// </param>
/// <param name="Group">
/// Explanations with the same number predict readings that these measurements cannot tell apart; 1 is the likeliest
/// group.
/// </param>
public sealed record FaultExplanation(FaultKind Kind, string What, string WhatToDo, double Probability, int Group)
{
    /// <summary>The fault's name in the catalogue.</summary>
    public string Title { get; init; } = "";

    /// <summary>What else would show, in words, with figures for other places where they are telling.</summary>
    public string AlsoShows { get; init; } = "";

    /// <summary>The same figures: what it predicts at places that have not been read.</summary>
    public ImmutableArray<PredictedElsewhere> Elsewhere { get; init; } = [];

    /// <summary>
    /// The fittings that it may be, one of them, or for two fittings of other wattages two of them; empty where it is not
    /// about a fitting.
    /// </summary>
    public ImmutableArray<string> FittingIds { get; init; } = [];

    /// <summary>The runs that it may be, one of them; empty where it is not about a run.</summary>
    public ImmutableArray<string> RunIds { get; init; } = [];

    /// <summary>The nodes that it may be at, one of them; empty where it is not about a node.</summary>
    public ImmutableArray<string> NodeIds { get; init; } = [];

    /// <summary>The wattage that the fitting has instead, or that the extra fitting has, W.</summary>
    public double? Watts { get; init; }

    /// <summary>
    /// For another wattage: the wattage, in any catalogue or none, that fits the readings best, W.
    /// </summary>
    public double? BestFitWatts { get; init; }

    /// <summary>For a high-resistance joint: its resistance, Ω.</summary>
    public double? JointOhms { get; init; }

    /// <summary>For water in a joint: the resistance between the cores, Ω.</summary>
    public double? LeakOhms { get; init; }

    /// <summary>For a longer or shorter cable: its length as a multiple of the recorded one.</summary>
    public double? LengthFactor { get; init; }

    /// <summary>For a cable of another conductor area: its area, mm².</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>For a driver of another output: its current, mA.</summary>
    public double? DriverMilliamps { get; init; }

    /// <summary>For a driver of another output: its voltage, V DC.</summary>
    public double? DriverVoltsDc { get; init; }

    /// <summary>For a meter on the wrong range: what was written down as a multiple of what is there.</summary>
    public double? MeterFactor { get; init; }

    /// <summary>What it predicts for each reading used, in their order.</summary>
    public ImmutableArray<PredictedReading> Predicted { get; init; } = [];

    /// <summary>
    /// Root mean square distance of the readings from the prediction, in standard uncertainties; about 1 or less
    /// where the explanation fits. Null where it predicts nothing.
    /// </summary>
    public double? Misfit { get; init; }
}

/// <summary>What an explanation predicts for one reading, beside what was read.</summary>
/// <param name="Place">Where.</param>
/// <param name="Quantity">What, and so the unit.</param>
/// <param name="Value">The prediction, in the unit of the quantity; null where it predicts nothing here.</param>
/// <param name="StandardUncertainty">
/// Its standard uncertainty with the meter's; null for insulation, which may be off by a factor, and for a fitting.
/// </param>
/// <param name="Measured">The reading.</param>
public sealed record PredictedReading(
    string Place, MeasuredQuantity Quantity, double? Value, double? StandardUncertainty, double Measured);

/// <summary>What an explanation predicts at a place that has not been read.</summary>
/// <param name="Place">Where.</param>
/// <param name="Quantity">What, and so the unit.</param>
/// <param name="Value">The prediction, in the unit of the quantity.</param>
/// <param name="StandardUncertainty">Its standard uncertainty with the meter's.</param>
/// <param name="AsDesigned">What the circuit as designed would read there.</param>
public sealed record PredictedElsewhere(
    string Place, MeasuredQuantity Quantity, double Value, double StandardUncertainty, double AsDesigned);
