using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Corrections;

/// <summary>Finds where two crews say different things of the same thing.</summary>
/// <remarks>
/// The newest fact counts; that another source said otherwise is never lost. The same source saying something new later
/// is no contradiction: it knows better now.
/// </remarks>
/// <typeparam name="T">Type of the fact.</typeparam>
/// <param name="fields">What is compared: what people call it, and how its value reads.</param>
public sealed class Disagreement<T>(params (string Name, Func<T, string> Says)[] fields)
    where T : IFact
{
    /// <summary>Adds what differs between the newest fact and the newest one of every other source.</summary>
    /// <param name="facts">The counting facts, oldest first.</param>
    /// <param name="contradictions">Takes the differences in plain words.</param>
    public void AddTo(IReadOnlyList<Counted<T>> facts, ICollection<string> contradictions)
    {
        if (facts.Count < 2) return;
        var newest = facts[^1];
        var seen = new HashSet<string>(StringComparer.Ordinal) { newest.Fact.Of.Source };
        for (var i = facts.Count - 2; i >= 0; i--)
        {
            if (!seen.Add(facts[i].Fact.Of.Source)) continue;
            foreach (var (name, says) in fields)
            {
                var (other, counts) = (says(facts[i].Data), says(newest.Data));
                if (other != counts)
                {
                    contradictions.Add(
                        $"The {name} is {counts} by {newest.Key} (newest, counts) and {other} by {facts[i].Key}.");
                }
            }
        }
    }
}
