using FleetLight.Client;
using FleetLight.Client.Reading;
using FleetLight.Contracts.Views;

namespace FleetLight.Office.Alerts;

/// <summary>How long an alert has stood.</summary>
/// <param name="Word">Its word in addresses.</param>
/// <param name="Says">How people say its end.</param>
/// <param name="Range">How people say it whole.</param>
/// <param name="From">From so many days on.</param>
/// <param name="To">To so many days, not included.</param>
public sealed record AlertAge(string Word, string Says, string Range, double From, double To)
{
    /// <summary>All, the youngest first.</summary>
    public static IReadOnlyList<AlertAge> All { get; } =
    [
        new("day", "1 day", "less than a day", double.NegativeInfinity, 1),
        new("week", "7 days", "1 to 7 days", 1, 7),
        new("month", "30 days", "7 to 30 days", 7, 30),
        new("older", "longer", "longer than 30 days", 30, double.PositiveInfinity),
    ];

    /// <summary>Whether what was raised then is so old.</summary>
    public bool Holds(DateTimeOffset raised, DateTimeOffset now) => (now - raised).TotalDays is var days && days >= From && days < To;
}

/// <summary>By what alerts are put together.</summary>
public enum AlertGrouping
{
    /// <summary>By site.</summary>
    Site,

    /// <summary>By rule.</summary>
    Rule,

    /// <summary>By circuit.</summary>
    Circuit,
}

/// <summary>Alerts that belong together.</summary>
/// <param name="Key">What they have in common: an id, or a rule; empty where they have nothing.</param>
/// <param name="Alerts">The gravest first, the oldest of those first.</param>
public sealed record AlertGroup(string Key, IReadOnlyList<AlertView> Alerts)
{
    /// <summary>How grave the gravest is.</summary>
    public AlertSeverity Gravest => Alerts[0].Finding.Severity;

    /// <summary>When the oldest was raised.</summary>
    public DateTimeOffset Oldest => Alerts.Min(alert => alert.RaisedAt);
}

/// <summary>Reads and sorts alerts.</summary>
public static class AlertBox
{
    /// <summary>So many are read at most: nobody goes through more in one sitting.</summary>
    public const int Most = 4000;

    private const int PageSize = 1000;

    /// <summary>The alerts that a filter lets through, and whether these are all.</summary>
    public static async Task<(IReadOnlyList<AlertView> Alerts, bool Whole)> ReadAsync(FleetLightClient client, AlertFilter filter, CancellationToken cancel)
    {
        List<AlertView> alerts = [];
        string? cursor = null;
        do
        {
            var page = await client.Status.AlertPageAsync(filter, cursor, PageSize, cancel);
            alerts.AddRange(page.Items);
            cursor = page.Next;
        }
        while (cursor is not null && alerts.Count < Most);
        return (alerts, cursor is null);
    }

    /// <summary>Groups, the gravest first, and of those the oldest.</summary>
    public static IReadOnlyList<AlertGroup> Group(IEnumerable<AlertView> alerts, AlertGrouping by) =>
    [
        .. alerts.SelectMany(alert => Keys(alert, by).Select(key => (Key: key, Alert: alert)))
            .GroupBy(each => each.Key, each => each.Alert, StringComparer.Ordinal)
            .Select(group => new AlertGroup(
                group.Key, [.. group.OrderByDescending(alert => alert.Finding.Severity).ThenBy(alert => alert.RaisedAt).ThenBy(alert => alert.Id, StringComparer.Ordinal)]))
            .OrderByDescending(group => group.Gravest).ThenBy(group => group.Oldest).ThenBy(group => group.Key, StringComparer.Ordinal),
    ];

    private static IEnumerable<string> Keys(AlertView alert, AlertGrouping by) => by switch
    {
        AlertGrouping.Site => [alert.SiteId],
        AlertGrouping.Rule => [alert.Finding.Rule],
        _ => alert.Finding.CircuitIds.Count > 0 ? alert.Finding.CircuitIds.Distinct(StringComparer.Ordinal) : [""],
    };
}
