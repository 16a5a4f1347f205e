using FleetLight.Contracts.Views;
using FleetLight.Record.Rules;

namespace FleetLight.Record.Alerts;

/// <summary>Decides what happens to alerts when the findings on a thing change.</summary>
public static class AlertDecider
{
    /// <summary>
    /// Compares what was found before with what is found now. Nothing happens to what stayed the same, so deciding
    /// twice raises nothing twice.
    /// </summary>
    /// <param name="tenant">The organisation.</param>
    /// <param name="siteId">The site of the thing.</param>
    /// <param name="before">What was found before.</param>
    /// <param name="after">What is found now.</param>
    /// <param name="knownAt">When the change was known.</param>
    /// <param name="knownBy">The facts whose arrival brought the change, as <c>source#id</c>, where known.</param>
    /// <returns>
    /// What happens, in the order of the findings: first what is raised or updated, then what is cleared.
    /// </returns>
    public static IReadOnlyList<IAlertEvent> Decide(
        string tenant,
        string siteId,
        IReadOnlyList<Finding> before,
        IReadOnlyList<Finding> after,
        DateTimeOffset knownAt,
        IReadOnlyList<string>? knownBy = null)
    {
        if (before.Count == 0 && after.Count == 0) return [];
        var stood = ByKey(before);
        List<IAlertEvent> events = [];
        foreach (var (key, finding) in ByKey(after))
        {
            var id = AlertIds.Of(tenant, finding);
            if (!stood.Remove(key, out var earlier))
                events.Add(new AlertRaised { AlertId = id, SiteId = siteId, Finding = finding, At = knownAt });
            else if (!SaysTheSame(earlier, finding))
                events.Add(new AlertUpdated { AlertId = id, SiteId = siteId, Finding = finding, At = knownAt });
        }

        foreach (var gone in stood.Values)
        {
            events.Add(new AlertCleared
            {
                AlertId = AlertIds.Of(tenant, gone),
                SiteId = siteId,
                ClearedBy = knownBy ?? [],
                At = knownAt,
            });
        }

        return events;
    }

    /// <summary>
    /// Whether two findings of one cause say the same: severity, reason, evidence and circuits touched.
    /// </summary>
    public static bool SaysTheSame(Finding one, Finding other) =>
        one.Severity == other.Severity && one.Reason == other.Reason
        && one.Evidence.SequenceEqual(other.Evidence) && one.CircuitIds.SequenceEqual(other.CircuitIds);

    private static SortedDictionary<(string Rule, ThingRef Subject, string Cause), Finding> ByKey(
        IReadOnlyList<Finding> findings)
    {
        var byKey = new SortedDictionary<(string Rule, ThingRef Subject, string Cause), Finding>(KeyOrder);
        foreach (var finding in findings) byKey[(finding.Rule, finding.Subject, finding.Cause)] = finding;
        return byKey;
    }

    private static readonly Comparer<(string Rule, ThingRef Subject, string Cause)> KeyOrder =
        Comparer<(string Rule, ThingRef Subject, string Cause)>.Create((x, y) =>
            FindingOrder.Compare(x.Rule, x.Subject, x.Cause, y.Rule, y.Subject, y.Cause));
}
