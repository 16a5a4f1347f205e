using System.Text.Json;
using System.Text.RegularExpressions;

namespace FleetLight.Endurance.Tests.Fuzz;

/// <summary>What no answer may be or hold, whatever was asked.</summary>
internal static partial class AnswerCheck
{
    /// <summary>What is wrong with an answer; none where nothing is.</summary>
    public static string? Fault(RawAnswer answer)
    {
        // Too many calculations at once is said so, and when to come again.
        if (answer.Status == 429) return answer.Header("Retry-After").Length > 0 ? null : "429 without Retry-After";
        if (answer.Status >= 500 && !IsRefusedProtocol(answer)) return $"answered {answer.Status}";
        if (answer.Status < 400) return null;
        if (Trace().Match(answer.Body) is { Success: true } trace) return $"{answer.Status} tells of the inside: {trace.Value}";
        if (answer.Body.Length == 0) return null;
        if (!answer.Header("Content-Type").StartsWith("application/problem+json", StringComparison.OrdinalIgnoreCase))
            return $"{answer.Status} with a body that is no problem";
        try
        {
            using JsonDocument problem = JsonDocument.Parse(answer.Body);
            string type = problem.RootElement.GetProperty("type").GetString()!;
            return type.StartsWith("urn:fleetlight:problem:", StringComparison.Ordinal) ? null : $"{answer.Status} with the type {type}";
        }
        catch (Exception unreadable) when (unreadable is JsonException or KeyNotFoundException or InvalidOperationException)
        {
            return $"{answer.Status} with a problem that cannot be read: {unreadable.Message}";
        }
    }

    // The web server's own word, without a body, for a version of HTTP or a transfer coding that it does not speak
    // (RFC 9110, 15.6.2 and 15.6.6): the request never reached the service.
    private static bool IsRefusedProtocol(RawAnswer answer) => answer is { Status: 501 or 505, Body.Length: 0 };

    [GeneratedRegex(@"\n\s+at |\.cs:line|[A-Za-z]+Exception\b|\bNpgsql|\bMarten\b|\bSystem\.[A-Z]|Microsoft\.|mt_events|fl_state")]
    private static partial Regex Trace();
}
