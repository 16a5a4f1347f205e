using System.Globalization;
using System.Text.Json;
using FleetLight.Contracts;

namespace FleetLight.Record.Files;

/// <summary>How numbers and words of the trade are written in texts for people.</summary>
public static class Words
{
    /// <summary>A number with its unit, for instance <c>12.5 m</c>; up to six decimals.</summary>
    public static string Of(double value, string unit) =>
        string.Concat(Plain(value), " ", unit);

    /// <summary>A plain number, up to six decimals.</summary>
    public static string Plain(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary>A number with its unit, or <c>not stated</c>.</summary>
    public static string Of(double? value, string unit) => value is { } known ? Of(known, unit) : "not stated";

    /// <summary>A word of the trade as it stands on the wire, for instance <c>twin-wall</c>.</summary>
    public static string Of<T>(T word)
        where T : struct, Enum => Written<T>.Words.GetValueOrDefault(word) ?? word.ToString();

    /// <summary>A word of the trade within a sentence, for instance <c>twin wall</c> or <c>class 5</c>.</summary>
    public static string Said<T>(T word)
        where T : struct, Enum => word switch
        {
            DuctService.LightingExtraLowVoltage => "extra-low voltage lighting",
            ConductorClass.Class1 => "class 1",
            ConductorClass.Class2 => "class 2",
            ConductorClass.Class5 => "class 5",
            _ => Of(word).Replace('-', ' '),
        };

    /// <summary>A date for people, UTC.</summary>
    public static string Of(DateTimeOffset at) =>
        at.ToUniversalTime().ToString("yyyy-MM-dd HH:mm 'UTC'", CultureInfo.InvariantCulture);

    private static class Written<T>
        where T : struct, Enum
    {
        public static readonly Dictionary<T, string> Words = Enum.GetValues<T>()
            .ToDictionary(word => word, word => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString()));
    }
}
