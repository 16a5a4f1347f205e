using System.Globalization;
using System.Text.RegularExpressions;

namespace FleetLight.OpenData.Cql;

/// <summary>Times as filters and features write them: whole milliseconds of UTC, so that their texts sort like the times.</summary>
public static partial class CqlTimes
{
    private const string Form = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    /// <summary>An instant with its offset (RFC 3339), cut to milliseconds.</summary>
    public static bool TryInstant(string text, out DateTimeOffset time)
    {
        time = default;
        if (!Rfc3339().IsMatch(text)) return false;
        if (!DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out var found)) return false;
        time = Whole(found);
        return true;
    }

    /// <summary>An instant, or the first or last millisecond of a day of UTC.</summary>
    public static bool TryInstantOrDay(string text, bool last, out DateTimeOffset time)
    {
        if (TryInstant(text, out time)) return true;
        if (!DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day)) return false;
        time = last ? EndOf(day) : StartOf(day);
        return true;
    }

    /// <summary>The first millisecond of a day.</summary>
    public static DateTimeOffset StartOf(DateOnly day) => new(day, TimeOnly.MinValue, TimeSpan.Zero);

    /// <summary>The last millisecond of a day.</summary>
    public static DateTimeOffset EndOf(DateOnly day) => new(day, new TimeOnly(23, 59, 59, 999), TimeSpan.Zero);

    /// <summary>The instant as text.</summary>
    public static string Text(DateTimeOffset time) => time.UtcDateTime.ToString(Form, CultureInfo.InvariantCulture);

    /// <summary>The instant cut to milliseconds, in UTC.</summary>
    public static DateTimeOffset Whole(DateTimeOffset time) => new(time.UtcTicks - (time.UtcTicks % TimeSpan.TicksPerMillisecond), TimeSpan.Zero);

    [GeneratedRegex(@"^\d{4}-\d{2}-\d{2}[Tt]\d{2}:\d{2}:\d{2}(\.\d{1,12})?([Zz]|[+-]\d{2}:\d{2})$", RegexOptions.CultureInvariant)]
    private static partial Regex Rfc3339();
}
