using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Record.Corrections;

/// <summary>
/// A fact and what is left of it after its corrections. Its place in the order stays that of the original.
/// </summary>
/// <param name="Original">The fact as recorded.</param>
/// <param name="CountingData">The data that counts: its own, or the replacement's; none where it was withdrawn.</param>
/// <param name="CorrectedBy">The correction that counts, where there is one.</param>
public readonly record struct EffectiveFact(RecordedFact Original, IFact? CountingData, RecordedFact? CorrectedBy)
{
    /// <summary>What the counting correction did; none where there is no correction.</summary>
    public FactCorrected? Correction => CorrectedBy?.Data as FactCorrected;
}
