using FleetLight.Contracts.Views;

namespace FleetLight.Record.Rules;

/// <summary>What a rule is, for people and for lists. What it finds, it finds in a pure function beside this.</summary>
/// <param name="Id">Stable name in kebab case.</param>
/// <param name="Title">What it says in a few words.</param>
/// <param name="Severity">How much it matters.</param>
/// <param name="Finds">What it finds, in plain words.</param>
/// <param name="Clears">What clears it, in plain words: also the remedy of its findings.</param>
/// <param name="Source">The standard with its clause, or that it is common practice without a source.</param>
public sealed record Rule(
    string Id, string Title, AlertSeverity Severity, string Finds, string Clears, string Source)
{
    /// <summary>The source of a rule that rests on the habits of the trade.</summary>
    public const string CommonPractice = "common practice, no source";

    /// <summary>A finding of this rule.</summary>
    /// <param name="subject">The thing it is about.</param>
    /// <param name="reason">What is wrong, in plain words.</param>
    /// <param name="circuits">The circuits it touches, where known.</param>
    /// <param name="evidence">The facts it rests on, as <c>source#id</c>.</param>
    /// <param name="cause">
    /// What distinguishes it from other findings of the rule on that thing. It names a part of the thing, never a fact:
    /// so it stays the same when more facts say the same, in whatever order they arrive.
    /// </param>
    /// <param name="modelVersion">The version of the models behind it; none where it rests on the record alone.</param>
    public Finding On(
        ThingRef subject,
        string reason,
        IReadOnlyList<string> circuits,
        IReadOnlyList<string> evidence,
        string cause = "",
        int? modelVersion = null) => new()
        {
            Rule = Id,
            Subject = subject,
            Cause = cause,
            Severity = Severity,
            Reason = reason,
            Remedy = Clears,
            CircuitIds = circuits,
            Evidence = evidence,
            ModelVersion = modelVersion,
        };
}
