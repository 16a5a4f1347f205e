using System.Globalization;
using System.Text.RegularExpressions;

namespace FleetLight.Service.Intake;

/// <summary>
/// Reads a time within a leap second, such as 2016-12-31T23:59:60Z: sound text (RFC 3339, 5.6 and 5.7) that the framework has no
/// value for. It counts as the last microsecond before midnight UTC, so it stays before what happened after it; facts within
/// one leap second are ordered by their running numbers.
/// </summary>
public static partial class LeapSecond
{
    /// <summary>The time; none where the text is not within a leap second. They come at the end of a month, UTC.</summary>
    public static bool TryRead(string text, out DateTimeOffset time)
    {
        time = default;
        if (Pattern().Match(text) is not { Success: true } match) return false;
        var before = $"{match.Groups[1].Value}:59{match.Groups[2].Value}";
        if (!DateTimeOffset.TryParse(before, CultureInfo.InvariantCulture, DateTimeStyles.None, out var second)) return false;
        if (second.UtcTicks > DateTimeOffset.MaxValue.UtcTicks - TimeSpan.TicksPerSecond) return false;
        if (second.ToUniversalTime().AddSeconds(1) is not { Day: 1, Hour: 0, Minute: 0 }) return false;
        time = second.AddTicks(TimeSpan.TicksPerSecond - TimeSpan.TicksPerMicrosecond);
        return true;
    }

    [GeneratedRegex(@"^(\d{4}-\d{2}-\d{2}[Tt]\d{2}:\d{2}):60(?:\.\d+)?([Zz]|[+-]\d{2}:\d{2})$", RegexOptions.CultureInvariant)]
    private static partial Regex Pattern();
}
