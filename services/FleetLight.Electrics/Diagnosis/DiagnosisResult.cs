using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>The ranked explanations of a circuit's readings.</summary>
/// <param name="Explanations">
/// The explanations, likeliest first; <see cref="FaultKind.NoneOfThese"/> is always among them.
/// </param>
/// <param name="Refusal">Why nothing could be worked out; null where something was.</param>
/// <param name="ReadingsUsed">
/// How many of the readings were used: those with a possible value, a valid meter and a place and quantity that the model
/// predicts; at most the last <see cref="Diagnosis.MostReadings"/> and <see cref="Diagnosis.MostLooks"/> of them.
/// </param>
public sealed record DiagnosisResult(
    ImmutableArray<FaultExplanation> Explanations, CannotExpect? Refusal, int ReadingsUsed)
{
    /// <summary>The groups of explanations that these readings cannot tell apart, likeliest first.</summary>
    public ImmutableArray<FaultGroup> Groups { get; init; } = [];

    /// <summary>Probability given all readings used that the circuit is as designed, 0 to 1.</summary>
    public double AsDesignedProbability { get; init; }

    /// <summary>The version of the models that this rests on.</summary>
    public int ModelVersion { get; init; } = Expected.ModelVersion;
}

/// <summary>Explanations that these readings cannot tell apart.</summary>
/// <param name="Number">Its number, as in <see cref="FaultExplanation.Group"/>; 1 is the likeliest.</param>
/// <param name="Members">Its explanations, by their index in the result, likeliest first.</param>
/// <param name="Probability">Probability that it is one of them, 0 to 1.</param>
/// <param name="Says">The group in a sentence.</param>
public sealed record FaultGroup(int Number, ImmutableArray<int> Members, double Probability, string Says);
