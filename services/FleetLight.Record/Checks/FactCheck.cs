using System.Collections.Frozen;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Checks.Members;

namespace FleetLight.Record.Checks;

/// <summary>
/// Checks a fact on its own: every member against the range, length and pattern that its contract states, and what the
/// members must say together. What a fact says in the light of others is never a reason to refuse it.
/// </summary>
public static class FactCheck
{
    /// <summary>Where the paths of members start.</summary>
    public const string Root = "data";

    private static readonly FrozenDictionary<Type, IShape> Shapes =
        FactTypes.All.ToFrozenDictionary(pair => pair.Value, pair => Shape.For(pair.Value));

    /// <summary>What is wrong with the fact; nothing where it is sound.</summary>
    public static IReadOnlyList<FactProblem> Check(IFact fact)
    {
        ArgumentNullException.ThrowIfNull(fact);
        var run = new CheckRun(Root);
        Shapes[fact.GetType()].Check(fact, run);
        return run.Problems;
    }
}
