using FleetLight.Contracts.Views;

namespace FleetLight.Record.Rules;

/// <summary>
/// The order of findings in a state: by rule, then subject, then cause, so that it never depends on how they were
/// found.
/// </summary>
public sealed class FindingOrder : IComparer<Finding>
{
    /// <summary>The one instance.</summary>
    public static FindingOrder Instance { get; } = new();

    /// <inheritdoc/>
    public int Compare(Finding? x, Finding? y)
    {
        if (ReferenceEquals(x, y)) return 0;
        if (x is null) return -1;
        if (y is null) return 1;
        return Compare(x.Rule, x.Subject, x.Cause, y.Rule, y.Subject, y.Cause);
    }

    /// <summary>The order of two findings by what distinguishes them.</summary>
    public static int Compare(
        string rule, ThingRef subject, string cause, string otherRule, ThingRef otherSubject, string otherCause)
    {
        var byRule = string.CompareOrdinal(rule, otherRule);
        if (byRule != 0) return byRule;
        var byKind = subject.Kind.CompareTo(otherSubject.Kind);
        if (byKind != 0) return byKind;
        var byId = string.CompareOrdinal(subject.Id, otherSubject.Id);
        return byId != 0 ? byId : string.CompareOrdinal(cause, otherCause);
    }

    /// <summary>The findings in order.</summary>
    public static IReadOnlyList<Finding> Sorted(List<Finding> findings)
    {
        findings.Sort(Instance);
        return findings;
    }
}
