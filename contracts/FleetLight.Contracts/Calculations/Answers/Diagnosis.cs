namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>What would explain a circuit's readings. Advice, never a certificate.</summary>
public sealed record DiagnosisAnswer : CircuitAnswer
{
    /// <summary>What the readings say; left out where <c>noAnswer</c> says why.</summary>
    public DiagnosisFindings? Diagnosis { get; init; }
}

/// <summary>The ranked explanations of a circuit's readings.</summary>
public sealed record DiagnosisFindings
{
    /// <summary>
    /// Number of the readings that were used: those with a possible value, and with a place and quantity that is worked out; the
    /// last 32 of them.
    /// </summary>
    public required int ReadingsUsed { get; init; }

    /// <summary>Probability that the circuit is as designed, %, given all readings used.</summary>
    public required double AsDesignedPercent { get; init; }

    /// <summary>The explanations, likeliest first; <c>none-of-these</c> is always among them.</summary>
    public required IReadOnlyList<ExplanationAnswer> Explanations { get; init; }

    /// <summary>The groups of explanations that these readings cannot tell apart, likeliest first.</summary>
    public required IReadOnlyList<GroupAnswer> Groups { get; init; }
}

/// <summary>One explanation, with what it predicts.</summary>
public sealed record ExplanationAnswer
{
    /// <summary>What kind of fault.</summary>
    public required KindOfFault Fault { get; init; }

    /// <summary>Its name in the catalogue.</summary>
    public required string Title { get; init; }

    /// <summary>Probability, %, given all readings used, under the stated priors.</summary>
    public required double ProbabilityPercent { get; init; }

    /// <summary>Number of its group.</summary>
    public required int Group { get; init; }

    /// <summary>What and where, in a sentence.</summary>
    public required string What { get; init; }

    /// <summary>What to do about it, safely.</summary>
    public required string WhatToDo { get; init; }

    /// <summary>What else would show, in words.</summary>
    public required string AlsoShows { get; init; }

    /// <summary>The fittings that it may be, one of them, or two of them for two fittings of other wattages.</summary>
    public required IReadOnlyList<string> FittingIds { get; init; }

    /// <summary>The runs that it may be, one of them.</summary>
    public required IReadOnlyList<string> RunIds { get; init; }

    /// <summary>The places that it may be at, one of them.</summary>
    public required IReadOnlyList<string> Places { get; init; }

    /// <summary>The wattage that the fitting has instead, or that the extra fitting has, in W.</summary>
    public double? Watts { get; init; }

    /// <summary>The wattage, in any catalogue or none, that fits the readings best, in W.</summary>
    public double? BestFitWatts { get; init; }

    /// <summary>Resistance of the joint, in Ω.</summary>
    public double? JointOhms { get; init; }

    /// <summary>Resistance between the cores, in Ω.</summary>
    public double? LeakOhms { get; init; }

    /// <summary>Length of the cable as a multiple of the recorded one, no unit.</summary>
    public double? LengthFactor { get; init; }

    /// <summary>Conductor area of the cable, in mm².</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>Current of the driver, in mA.</summary>
    public double? DriverMilliamps { get; init; }

    /// <summary>Voltage of the driver, in V DC.</summary>
    public double? DriverVoltsDc { get; init; }

    /// <summary>What was written down as a multiple of what is there, no unit.</summary>
    public double? MeterFactor { get; init; }

    /// <summary>
    /// Root mean square distance of the readings from the prediction, in standard uncertainties, no unit; about 1 or less where
    /// it fits.
    /// </summary>
    public double? Misfit { get; init; }

    /// <summary>What it predicts for each reading used, in their order.</summary>
    public required IReadOnlyList<PredictedAnswer> Predicted { get; init; }

    /// <summary>What it predicts at places that have not been read, where that is telling.</summary>
    public required IReadOnlyList<PredictedElsewhereAnswer> Elsewhere { get; init; }
}

/// <summary>Explanations that these readings cannot tell apart.</summary>
public sealed record GroupAnswer
{
    /// <summary>Number of the group; 1 is the likeliest.</summary>
    public required int Number { get; init; }

    /// <summary>Probability, %, that it is one of them.</summary>
    public required double ProbabilityPercent { get; init; }

    /// <summary>Its explanations by their place in the list, from 0, likeliest first; no unit.</summary>
    public required IReadOnlyList<int> Members { get; init; }

    /// <summary>The group in a sentence.</summary>
    public required string Says { get; init; }
}

/// <summary>What an explanation predicts for one reading, beside what was read.</summary>
public sealed record PredictedAnswer
{
    /// <summary>Where.</summary>
    public required string Place { get; init; }

    /// <summary>What, and so the unit.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>The reading, in the unit of the quantity.</summary>
    public required double Measured { get; init; }

    /// <summary>The prediction, in the unit of the quantity; left out where it predicts nothing here.</summary>
    public double? Value { get; init; }

    /// <summary>Its standard uncertainty with the meter's, in the unit of the quantity.</summary>
    public double? StandardUncertainty { get; init; }
}

/// <summary>What an explanation predicts at a place that has not been read.</summary>
public sealed record PredictedElsewhereAnswer
{
    /// <summary>Where.</summary>
    public required string Place { get; init; }

    /// <summary>What, and so the unit.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>The prediction, in the unit of the quantity.</summary>
    public required double Value { get; init; }

    /// <summary>Its standard uncertainty with the meter's, in the unit of the quantity.</summary>
    public required double StandardUncertainty { get; init; }

    /// <summary>What the circuit as designed would read there, in the unit of the quantity.</summary>
    public required double AsDesigned { get; init; }
}
