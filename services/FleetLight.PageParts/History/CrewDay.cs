using FleetLight.Contracts.Views;

namespace FleetLight.PageParts.History;

/// <summary>What one device recorded on a day.</summary>
/// <param name="Day">The day, of the viewer's place.</param>
/// <param name="By">Who.</param>
/// <param name="Did">What, each sort of work with its number.</param>
/// <param name="Facts">Number of facts, no unit.</param>
/// <param name="Late">Number of facts that came in more than a day after they happened, no unit.</param>
public sealed record CrewDay(DateOnly Day, string By, IReadOnlyList<string> Did, int Facts, int Late)
{
    private static readonly TimeSpan Prompt = TimeSpan.FromDays(1);

    /// <summary>The days of facts, the newest first.</summary>
    public static IReadOnlyList<CrewDay> Of(IEnumerable<FactView> facts, TimeZoneInfo zone, Func<string, string?>? whois = null) =>
    [
        .. facts
            .GroupBy(fact => (Day: DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(fact.HappenedAt, zone).DateTime), fact.Source))
            .OrderByDescending(day => day.Key.Day).ThenBy(day => day.Key.Source, StringComparer.Ordinal)
            .Select(day => new CrewDay(
                day.Key.Day,
                whois?.Invoke(day.Key.Source) ?? FactTale.DeviceOf(day.Key.Source),
                [.. day.GroupBy(fact => FactSummary.TypeSaid(fact.Type)).OrderByDescending(sort => sort.Count()).ThenBy(sort => sort.Key, StringComparer.Ordinal).Select(Said)],
                day.Count(),
                day.Count(fact => fact.RecordedAt - fact.HappenedAt > Prompt))),
    ];

    private static string Said(IGrouping<string, FactView> sort) => sort.Count() == 1 ? sort.Key : $"{sort.Key} × {sort.Count()}";
}
