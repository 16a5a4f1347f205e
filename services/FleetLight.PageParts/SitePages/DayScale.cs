using System.Globalization;

namespace FleetLight.PageParts.SitePages;

/// <summary>The days of a site from its first fact to today, as a slider counts them. Days are those of the viewer's place.</summary>
/// <param name="First">The first day.</param>
/// <param name="Last">The last day, which is today.</param>
/// <param name="Eventful">The days on which something was recorded as done, in order.</param>
/// <param name="Zone">The viewer's place.</param>
public sealed record DayScale(DateOnly First, DateOnly Last, IReadOnlyList<DateOnly> Eventful, TimeZoneInfo Zone)
{
    /// <summary>Number of days after the first, no unit.</summary>
    public int Most => Last.DayNumber - First.DayNumber;

    /// <summary>The scale of what happened at these times.</summary>
    public static DayScale Of(IEnumerable<DateTimeOffset> happened, DateTimeOffset now, TimeZoneInfo zone)
    {
        var today = DayOf(now, zone);
        DateOnly[] days = [.. happened.Select(at => DayOf(at, zone)).Where(day => day <= today).Distinct().Order()];
        return new DayScale(days is [var first, ..] ? first : today, today, days, zone);
    }

    /// <summary>The day at a place of the slider.</summary>
    public DateOnly At(int step) => First.AddDays(Math.Clamp(step, 0, Most));

    /// <summary>The place of a day on the slider.</summary>
    public int StepOf(DateOnly day) => Math.Clamp(day.DayNumber - First.DayNumber, 0, Most);

    /// <summary>The last day before this one on which something happened; none where there is none.</summary>
    public DateOnly? Before(DateOnly day) => Eventful.Where(each => each < day).Select(each => (DateOnly?)each).LastOrDefault();

    /// <summary>The next day after this one on which something happened; none where there is none.</summary>
    public DateOnly? After(DateOnly day) => Eventful.Where(each => each > day).Select(each => (DateOnly?)each).FirstOrDefault();

    /// <summary>The end of a day as the API's <c>asOf</c> takes it; none for today, which is the state as it stands.</summary>
    public string? AsOf(DateOnly day) => day >= Last ? null : EndOf(day).ToString("yyyy-MM-dd'T'HH:mm:ss'Z'", CultureInfo.InvariantCulture);

    /// <summary>A day for people.</summary>
    public static string Say(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);

    private DateTimeOffset EndOf(DateOnly day)
    {
        // The last second of the day: asOf counts what happened up to it.
        var local = day.AddDays(1).ToDateTime(TimeOnly.MinValue);
        while (Zone.IsInvalidTime(local)) local = local.AddMinutes(30);
        return new DateTimeOffset(local, Zone.GetUtcOffset(local)).ToUniversalTime().AddSeconds(-1);
    }

    private static DateOnly DayOf(DateTimeOffset at, TimeZoneInfo zone) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(at, zone).DateTime);
}
