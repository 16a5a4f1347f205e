using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.Signs;

/// <summary>The words in which both pages say what the contract says in short, and how numbers and times are written.</summary>
public static class Words
{
    // Verdicts, severities and phases travel as words of the contract, in addresses for instance; what they say stands in PlainWords alone.
    private static readonly Dictionary<string, string> Said = new(
        [.. Worded<CircuitVerdict>(), .. Worded<AlertSeverity>(), .. Worded<CircuitPhase>()], StringComparer.Ordinal);

    /// <summary>Verdicts, the worst first.</summary>
    public static IReadOnlyList<CircuitVerdict> Verdicts { get; } =
        [CircuitVerdict.Outside, CircuitVerdict.Doubtful, CircuitVerdict.CannotBeJudged, CircuitVerdict.Unread, CircuitVerdict.Within];

    /// <summary>Severities, the worst first.</summary>
    public static IReadOnlyList<AlertSeverity> Severities { get; } = [AlertSeverity.Serious, AlertSeverity.Warning, AlertSeverity.Notice];

    /// <summary>The contract's word of a value.</summary>
    public static string Of<T>(T value) where T : struct, Enum => JsonSerializer.Serialize(value, WireJson.Lenient).Trim('"');

    /// <summary>The value of one of the contract's words; none where there is none such.</summary>
    public static T? Read<T>(string? word) where T : struct, Enum
    {
        foreach (var value in Enum.GetValues<T>())
            if (Of(value) == word) return value;
        return null;
    }

    /// <summary>A word of the contract as people say it.</summary>
    public static string Say(string word) => Said.TryGetValue(word, out var said) ? said : word.Replace('-', ' ');

    /// <summary>A value of the contract as people say it.</summary>
    public static string Say<T>(T value) where T : struct, Enum => PlainWords.InSentence(value);

    /// <summary>With a capital at its beginning.</summary>
    public static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    /// <summary>A number of things.</summary>
    public static string Count(long number, string one, string? many = null) => $"{Number(number)} {(number == 1 ? one : many ?? one + "s")}";

    /// <summary>A whole number, in groups of three.</summary>
    public static string Number(long number) => number.ToString("N0", CultureInfo.InvariantCulture);

    /// <summary>A measured value to three or four figures, as a meter would show it.</summary>
    public static string Figure(double value)
    {
        var size = Math.Abs(value);
        return value.ToString(size >= 100 ? "F0" : size >= 10 ? "F1" : "F2", CultureInfo.InvariantCulture);
    }

    /// <summary>Two ends of an interval that a reader can tell apart, with their unit.</summary>
    public static string Span(ExpectedValue expected, string unit)
    {
        var width = expected.High - expected.Low;
        var form = width < 0.1 ? "F3" : width < 5 ? "F2" : width < 20 ? "F1" : "F0";
        return $"{expected.Low.ToString(form, CultureInfo.InvariantCulture)} – {expected.High.ToString(form, CultureInfo.InvariantCulture)} {unit}";
    }

    /// <summary>A day, at the time zone of the reader.</summary>
    public static string Day(DateTimeOffset time, TimeZoneInfo zone) => In(time, zone).ToString("d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A day.</summary>
    public static string Day(DateOnly day) => day.ToString("ddd d MMM yyyy", CultureInfo.InvariantCulture);

    /// <summary>A day and a minute, at the time zone of the reader.</summary>
    public static string Minute(DateTimeOffset time, TimeZoneInfo zone) => In(time, zone).ToString("d MMM yyyy, HH:mm", CultureInfo.InvariantCulture);

    /// <summary>A time of the day, at the time zone of the reader.</summary>
    public static string Hour(DateTimeOffset time, TimeZoneInfo zone) => In(time, zone).ToString("HH:mm", CultureInfo.InvariantCulture);

    /// <summary>How long ago, roughly.</summary>
    public static string Ago(DateTimeOffset time, DateTimeOffset now)
    {
        var past = now - time;
        return past.TotalMinutes < 1 ? "just now"
            : past.TotalHours < 1 ? $"{(int)past.TotalMinutes} min ago"
            : past.TotalDays < 1 ? $"{(int)past.TotalHours} h ago"
            : past.TotalDays < 60 ? Count((int)past.TotalDays, "day") + " ago"
            : past.TotalDays < 730 ? Count((int)(past.TotalDays / 30.4), "month") + " ago"
            : Count((int)(past.TotalDays / 365.2), "year") + " ago";
    }

    /// <summary>A device as people say it: the last part of its source.</summary>
    public static string Device(string source) => source.Split(':', '/')[^1] is { Length: > 0 } last ? last : source;

    /// <summary>A type of fact as people say it: <c>fleetlight.cable.pulled.v1</c> is "Cable pulled".</summary>
    public static string FactType(string type)
    {
        var parts = type.Split('.');
        return parts.Length < 4 ? type : Capital(string.Join(' ', parts[1..^1]).Replace('-', ' '));
    }

    private static IEnumerable<KeyValuePair<string, string>> Worded<T>() where T : struct, Enum =>
        Enum.GetValues<T>().Select(value => KeyValuePair.Create(Of(value), PlainWords.InSentence(value)));

    private static DateTimeOffset In(DateTimeOffset time, TimeZoneInfo zone) => TimeZoneInfo.ConvertTime(time, zone);
}
