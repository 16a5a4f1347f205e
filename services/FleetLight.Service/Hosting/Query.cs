using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.Service.Hosting;

/// <summary>Reads query parameters.</summary>
public static class Query
{
    // The clocks of the world are between 12 hours behind UTC and 14 ahead of it.
    private const int MostOffset = 840;

    /// <summary>A word of an enumeration as it is written in JSON.</summary>
    /// <param name="text">What was given.</param>
    /// <param name="otherwise">The member where nothing was given.</param>
    /// <param name="name">Name of the parameter.</param>
    /// <param name="value">The member.</param>
    /// <param name="problem">What is wrong.</param>
    /// <param name="besides">A word that the endpoint takes besides.</param>
    public static bool TryEnum<T>(string? text, T otherwise, string name, out T value, out Problem? problem, string? besides = null)
        where T : struct, Enum
    {
        value = otherwise;
        problem = null;
        if (string.IsNullOrEmpty(text)) return true;
        foreach (var each in Enum.GetValues<T>())
        {
            if (string.Equals(Word(each), text, StringComparison.OrdinalIgnoreCase))
            {
                value = each;
                return true;
            }
        }

        problem = Problems.Parameter(name, $"'{(text.Length > 60 ? text[..60] : text)}' is none of the words taken here.",
            $"Use one of: {string.Join(", ", Enum.GetValues<T>().Select(Word).Concat(besides is null ? [] : [besides]))}.");
        return false;
    }

    /// <summary>Settings that parameters of the same names set, checked against the ranges that their members state.</summary>
    public static bool TrySettings<T>(T settings, out Problem? problem) where T : class
    {
        problem = RequestCheck.Check(settings) is [var wrong, ..] ? Problems.Parameter(wrong.Field, wrong.Detail, wrong.Remedy) : null;
        return problem is null;
    }

    /// <summary>A word of an enumeration, or none.</summary>
    public static bool TryEnum<T>(string? text, string name, out T? value, out Problem? problem, string? besides = null) where T : struct, Enum
    {
        value = null;
        var good = TryEnum(text, default(T), name, out var found, out problem, besides);
        if (good && !string.IsNullOrEmpty(text)) value = found;
        return good;
    }

    /// <summary>An instant, RFC 3339.</summary>
    public static bool TryTime(string? text, string name, out DateTimeOffset? time, out Problem? problem)
    {
        time = null;
        problem = null;
        if (string.IsNullOrEmpty(text)) return true;
        if (DateTimeOffset.TryParse(text, System.Globalization.CultureInfo.InvariantCulture, System.Globalization.DateTimeStyles.AssumeUniversal, out var found))
        {
            time = found;
            return true;
        }

        problem = Problems.Parameter(name, "The time cannot be read.", "Use RFC 3339, for instance 2026-05-04T07:30:00Z.");
        return false;
    }

    /// <summary>How far the clock of days is ahead of UTC, min; 0 where nothing was given.</summary>
    public static bool TryOffset(int? given, out int minutes, out Problem? problem)
    {
        minutes = given ?? 0;
        problem = minutes is < -MostOffset or > MostOffset
            ? Problems.Parameter("offsetMinutes", $"-{MostOffset} to {MostOffset} min are taken.", "Say how far the day's clock is ahead of UTC, in minutes.")
            : null;
        return problem is null;
    }

    /// <summary>The word of a member as it is written in JSON.</summary>
    public static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());
}
