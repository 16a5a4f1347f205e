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
    /// <summary>The fittings that it may be, one of them; empty where it is not about a fitting.</summary>
    public ImmutableArray<string> FittingIds { get; init; } = [];

    /// <summary>The runs that it may be, one of them; empty where it is not about a run.</summary>
    public ImmutableArray<string> RunIds { get; init; } = [];

    /// <summary>The wattage that the fitting has instead, or that the extra fitting has, W.</summary>
    public double? Watts { get; init; }

    /// <summary>
    /// For another wattage or one fitting too many: the wattage, in any catalogue or none, that fits the readings
    /// best, W.
    /// </summary>
    public double? BestFitWatts { get; init; }

    /// <summary>For a high-resistance joint: its resistance, Ω.</summary>
    public double? JointOhms { get; init; }

    /// <summary>For a longer or shorter cable: its length as a multiple of the recorded one.</summary>
    public double? LengthFactor { get; init; }

    /// <summary>For a wrong driver: its current, mA.</summary>
    public double? DriverMilliamps { get; init; }

    /// <summary>For a wrong driver: its voltage, V DC.</summary>
    public double? DriverVoltsDc { get; init; }

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
/// <param name="StandardUncertainty">Its standard uncertainty with the meter's.</param>
/// <param name="Measured">The reading.</param>
public sealed record PredictedReading(
    string Place, MeasuredQuantity Quantity, double? Value, double? StandardUncertainty, double Measured);

/// <summary>The ranked explanations of a circuit's readings.</summary>
/// <param name="Explanations">
/// The explanations, likeliest first; <see cref="FaultKind.NoneOfThese"/> is always among them.
/// </param>
/// <param name="Refusal">Why nothing could be worked out; null where something was.</param>
/// <param name="ReadingsUsed">
/// How many of the readings were used: those with a finite value, a valid meter and a place and quantity that the model
/// predicts; at most the last <see cref="Diagnosis.MostReadings"/> of them.
/// </param>
public sealed record DiagnosisResult(
    ImmutableArray<FaultExplanation> Explanations, CannotExpect? Refusal, int ReadingsUsed);
