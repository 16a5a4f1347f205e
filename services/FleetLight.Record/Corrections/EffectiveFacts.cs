using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Record.Files;

namespace FleetLight.Record.Corrections;

/// <summary>The facts of a file as they count after their corrections.</summary>
/// <param name="Facts">Every fact of the file in its place, the corrections among them.</param>
/// <param name="Contradictions">Corrections that cannot count, and why, in plain words.</param>
/// <param name="Waiting">Corrections whose fact is not in the file yet, in plain words.</param>
public sealed record EffectiveFacts(
    IReadOnlyList<EffectiveFact> Facts,
    IReadOnlyList<string> Contradictions,
    IReadOnlyList<string> Waiting)
{
    /// <summary>
    /// Applies the corrections of a file to its facts. Of several corrections of one fact the newest that can count
    /// does, so that withdrawing and replacing can follow one another in any order of arrival.
    /// </summary>
    public static EffectiveFacts Of(ThingFile file) => Of(file.Facts);

    /// <summary>The same for facts in their order.</summary>
    public static EffectiveFacts Of(IReadOnlyList<RecordedFact> facts)
    {
        var byTarget = Corrections(facts);
        var effective = new List<EffectiveFact>(facts.Count);
        if (byTarget is null)
        {
            foreach (var fact in facts) effective.Add(new(fact, fact.Data, null));
            return new(effective, [], []);
        }

        List<string> contradictions = [], waiting = [];
        foreach (var fact in facts)
        {
            effective.Add(fact.Data is not FactCorrected && byTarget.Remove(FactKey.Of(fact.Of), out var corrections)
                ? Apply(fact, corrections, contradictions)
                : new(fact, fact.Data, null));
        }

        foreach (var left in byTarget.Values.SelectMany(one => one).Order(FactOrder.Instance))
            waiting.Add($"The correction {FactKey.Of(left.Of)} waits for the fact {TargetOf(left)}.");
        return new(effective, contradictions, waiting);
    }

    /// <summary>What is left of one fact after its corrections.</summary>
    /// <param name="target">The fact.</param>
    /// <param name="corrections">All its corrections, in any order.</param>
    /// <param name="contradictions">Takes, in plain words, the corrections that cannot count.</param>
    public static EffectiveFact Apply(
        RecordedFact target, IEnumerable<RecordedFact> corrections, ICollection<string> contradictions)
    {
        foreach (var correction in corrections.OrderDescending(FactOrder.Instance))
        {
            if (correction.Data is not FactCorrected data) continue;
            if (data.Action == CorrectionAction.Withdraw && IsOfType(data, target))
                return new(target, null, correction);
            if (data.Action == CorrectionAction.Replace && IsOfType(data, target) && Replacement(data) is { } counts)
                return new(target, counts, correction);
            contradictions.Add(
                $"The correction {FactKey.Of(correction.Of)} of {FactKey.Of(target.Of)} does not fit that fact "
                    + "and counts for nothing.");
        }

        return new(target, target.Data, null);
    }

    /// <summary>
    /// The data that a correction puts in the place of the fact's own; none where it is no sound data of the type
    /// named.
    /// </summary>
    public static IFact? Replacement(FactCorrected correction) =>
        ReplacementReader.Read(correction).Fact is { } fact && FactCheck.Check(fact).Count == 0 ? fact : null;

    /// <summary>The fact that a recorded correction means, as <c>source#id</c>.</summary>
    public static string TargetOf(RecordedFact correction) => correction.Data is FactCorrected data
        ? FactKey.Of(data.TargetSource ?? correction.Of.Source, data.TargetId)
        : "";

    private static bool IsOfType(FactCorrected correction, RecordedFact target) =>
        FactTypes.Find(correction.TargetType) == target.Data.GetType();

    private static Dictionary<string, List<RecordedFact>>? Corrections(IReadOnlyList<RecordedFact> facts)
    {
        Dictionary<string, List<RecordedFact>>? byTarget = null;
        foreach (var fact in facts)
        {
            if (fact.Data is not FactCorrected) continue;
            byTarget ??= new(StringComparer.Ordinal);
            var target = TargetOf(fact);
            if (byTarget.TryGetValue(target, out var known)) known.Add(fact);
            else byTarget[target] = [fact];
        }

        return byTarget;
    }
}
