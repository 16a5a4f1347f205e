using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.FieldAgent.Commands;

/// <summary>Where commands write: for people, or as JSON for programs.</summary>
/// <param name="Json">Whether it is for programs.</param>
/// <param name="Text">Where results go.</param>
/// <param name="Errors">Where failures go.</param>
internal sealed record Out(bool Json, TextWriter Text, TextWriter Errors)
{
    private static readonly JsonSerializerOptions Indented = new(WireJson.Lenient) { WriteIndented = true };

    /// <summary>Writes a result.</summary>
    public int Say<T>(T value, Func<T, IEnumerable<string>> lines)
    {
        if (Json) Text.WriteLine(JsonSerializer.Serialize(value, Indented));
        else foreach (var line in lines(value)) Text.WriteLine(line);
        return ExitCodes.Done;
    }

    /// <summary>Writes a failure.</summary>
    public int Fail(int code, string message)
    {
        if (Json) Text.WriteLine(JsonSerializer.Serialize(new { error = message }, Indented));
        else Errors.WriteLine(message);
        return code;
    }

    /// <summary>Writes a problem.</summary>
    public int Fail(int code, Problem problem, string before = "")
    {
        if (Json) Text.WriteLine(JsonSerializer.Serialize(problem, Indented));
        else Errors.WriteLine(before + Told(problem));
        return code;
    }

    /// <summary>A problem in a line.</summary>
    public static string Told(Problem problem) =>
        string.Join(' ', new[] { problem.Field is { } field ? $"{field}:" : null, problem.Detail ?? problem.Title, problem.Remedy }.Where(text => text is not null));
}
