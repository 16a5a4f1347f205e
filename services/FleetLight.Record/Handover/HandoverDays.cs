using System.Globalization;

namespace FleetLight.Record.Handover;

/// <summary>Days and times by the clock of a pack.</summary>
/// <param name="OffsetMinutes">How far that clock is ahead of UTC, min.</param>
public sealed record HandoverDays(int OffsetMinutes)
{
    /// <summary>The day of an instant.</summary>
    public DateOnly Of(DateTimeOffset at) => DateOnly.FromDateTime(Local(at).DateTime);

    /// <summary>The day of an instant; none for none.</summary>
    public DateOnly? Of(DateTimeOffset? at) => at is { } known ? Of(known) : null;

    /// <summary>An instant by that clock.</summary>
    public DateTimeOffset Local(DateTimeOffset at) => at.ToOffset(TimeSpan.FromMinutes(OffsetMinutes));

    /// <summary>A day for people: <c>4 May 2026</c>.</summary>
    public static string Say(DateOnly day) => day.ToString("d MMMM yyyy", CultureInfo.InvariantCulture);
}
