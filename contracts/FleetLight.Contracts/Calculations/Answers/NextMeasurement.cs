namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>Where to measure next, or why to stop. Advice, never a certificate.</summary>
public sealed record NextMeasurementAnswer : CircuitAnswer
{
    /// <summary>What can be measured, the one that tells most for its effort first; empty where nothing can be.</summary>
    public required IReadOnlyList<CandidateAnswer> Candidates { get; init; }

    /// <summary>
    /// How open the question is: entropy over the explanations in bits, those that need the same done at the same place taken as
    /// one; no other unit.
    /// </summary>
    public required double OpenBits { get; init; }

    /// <summary>Why to stop measuring; left out where the first candidate is worth its while.</summary>
    public StopAnswer? Stop { get; init; }

    /// <summary>What the readings so far say; left out where <c>noAnswer</c> says why.</summary>
    public DiagnosisFindings? Diagnosis { get; init; }
}

/// <summary>One reading that could be taken next.</summary>
public sealed record CandidateAnswer
{
    /// <summary>Where: one place, or every fitting for a look at which of them are lit.</summary>
    public required IReadOnlyList<string> Places { get; init; }

    /// <summary>What, and so the unit.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>What it is expected to tell, in bits: 1 settles an even choice between two; no other unit.</summary>
    public required double Bits { get; init; }

    /// <summary>What it takes, in minutes of one person; the unit is min.</summary>
    public required double EffortMinutes { get; init; }

    /// <summary>What it is expected to tell for an hour of work; the unit is bit/h.</summary>
    public required double BitsPerHour { get; init; }

    /// <summary>What to do, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>What to mind; local codes and a licensed person's word come first.</summary>
    public required string Caution { get; init; }

    /// <summary>What the likeliest explanations would read there, likeliest first.</summary>
    public required IReadOnlyList<WouldReadAnswer> WouldRead { get; init; }
}

/// <summary>What would be read if an explanation were true.</summary>
public sealed record WouldReadAnswer
{
    /// <summary>The explanation, a sentence.</summary>
    public required string If { get; init; }

    /// <summary>Its probability as things stand, %.</summary>
    public required double ProbabilityPercent { get; init; }

    /// <summary>What would be read, in words.</summary>
    public required string Text { get; init; }

    /// <summary>The reading, in the unit of the quantity; left out where nothing is predicted, or for a look.</summary>
    public double? Value { get; init; }

    /// <summary>
    /// Its standard uncertainty with the meter's, in the unit of the quantity; for insulation that of its natural logarithm.
    /// </summary>
    public double? StandardUncertainty { get; init; }
}

/// <summary>Why to stop measuring.</summary>
public sealed record StopAnswer
{
    /// <summary>Why, for programs.</summary>
    public required StopMeasuringReason Reason { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>Probability of the explanation, or of the group, that leads, %.</summary>
    public required double ProbabilityPercent { get; init; }
}
