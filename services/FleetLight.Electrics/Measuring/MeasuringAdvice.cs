using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What to measure next, or why to stop. Advice, never a certificate.</summary>
/// <param name="Diagnosis">What the readings so far say.</param>
public sealed record MeasuringAdvice(DiagnosisResult Diagnosis)
{
    /// <summary>What can be measured, the one that tells most per minute first. Empty where nothing can be.</summary>
    public ImmutableArray<MeasuringCandidate> Candidates { get; init; } = [];

    /// <summary>
    /// How open the question is: entropy over the explanations, those that need the same done at the same place taken
    /// as one; bits.
    /// </summary>
    public double OpenBits { get; init; }

    /// <summary>Why to stop measuring; null where the first candidate is worth its while.</summary>
    public StopMeasuring? Stop { get; init; }
}

/// <summary>Why to stop measuring.</summary>
/// <param name="Reason">Why, for programs.</param>
/// <param name="Text">Why, in plain words.</param>
/// <param name="Probability">Probability of the explanation, or of the group, that leads; 0 to 1.</param>
public sealed record StopMeasuring(StopReason Reason, string Text, double Probability);

/// <summary>Why to stop measuring.</summary>
public enum StopReason
{
    /// <summary>
    /// One explanation, or several that need the same done at the same place, is as likely as asked for.
    /// </summary>
    OneExplanation,

    /// <summary>Explanations that nothing here can tell apart are together as likely as asked for.</summary>
    OneGroup,

    /// <summary>Nothing that can be measured here tells enough for its effort.</summary>
    NothingTellsEnough,

    /// <summary>Nothing can be worked out for the circuit as recorded; the diagnosis says why.</summary>
    NothingKnown,
}

/// <summary>One reading that could be taken next.</summary>
/// <param name="Places">Where: one place, or every fitting for a look at which of them are lit.</param>
/// <param name="Quantity">What, and so the unit.</param>
/// <param name="Bits">
/// What it is expected to tell about which explanation is true; 1 bit settles an even choice between two.
/// </param>
/// <param name="EffortMinutes">What it takes, in minutes of one person.</param>
/// <param name="Text">What to do, in plain words.</param>
/// <param name="Caution">What to mind; local codes and a licensed person's word come first.</param>
public sealed record MeasuringCandidate(
    ImmutableArray<string> Places,
    MeasuredQuantity Quantity,
    double Bits,
    double EffortMinutes,
    string Text,
    string Caution)
{
    /// <summary>What it is expected to tell for an hour of work, bits.</summary>
    public double BitsPerHour => EffortMinutes > 0 ? 60 * Bits / EffortMinutes : Bits > 0 ? double.MaxValue : 0;

    /// <summary>What the likeliest explanations would read there, likeliest first.</summary>
    public ImmutableArray<WouldRead> WouldRead { get; init; } = [];
}

/// <summary>What would be read if an explanation were true.</summary>
/// <param name="If">The explanation, a sentence.</param>
/// <param name="Probability">Its probability as things stand, 0 to 1.</param>
/// <param name="Text">What would be read, such as "about 12.3 V", or which fittings would be dark.</param>
/// <param name="Value">The reading, in the unit of the quantity; null where nothing is predicted or for a look.</param>
/// <param name="StandardUncertainty">Its standard uncertainty with the meter's, in the same unit; for insulation
/// resistance that of its logarithm.</param>
public sealed record WouldRead(string If, double Probability, string Text, double? Value, double? StandardUncertainty);
