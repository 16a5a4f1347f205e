using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Calculations;

/// <summary>Reads what a calculation is asked, strictly.</summary>
internal static class RequestReader
{
    /// <summary>The request, or what is wrong with it.</summary>
    public static (TRequest? Request, Problem? Problem) Read<TRequest>(ReadOnlyMemory<byte> body)
        where TRequest : class
    {
        TRequest? asked;
        try
        {
            asked = JsonSerializer.Deserialize<TRequest>(body.Span, WireJson.Strict);
        }
        catch (JsonException bad)
        {
            return (null, OfJson(bad, body.Span));
        }

        if (asked is null) return (null, Problems.RequestInvalid(null, "The body is null.", "Send a JSON object as the contract asks."));
        var wrong = RequestCheck.Check(asked);
        return wrong.Count > 0 ? (null, ProblemOf(wrong[0], wrong.Count - 1)) : (asked, null);
    }

    /// <summary>The problem that answers a request with something wrong in it.</summary>
    /// <param name="first">What is wrong.</param>
    /// <param name="more">How many more things are.</param>
    public static Problem ProblemOf(FactProblem first, int more = 0)
    {
        var detail = more == 0 ? first.Detail : $"{first.Detail} And {more} more.";
        return first.Kind == FactProblemKind.OutOfRange
            ? Problems.RequestOutOfRange(first.Field, detail, first.Remedy)
            : Problems.RequestInvalid(first.Field, detail, first.Remedy);
    }

    // Text that is no JSON at all and JSON that is no such request both come as the same exception.
    private static Problem OfJson(JsonException bad, ReadOnlySpan<byte> body)
    {
        var reader = new Utf8JsonReader(body, new JsonReaderOptions { MaxDepth = WireJson.Strict.MaxDepth });
        try
        {
            while (reader.Read())
            {
            }
        }
        catch (JsonException unreadable)
        {
            return Problems.BodyUnreadable(
                $"Line {unreadable.LineNumber + 1}, byte {unreadable.BytePositionInLine + 1} of the body cannot be read as JSON (RFC 8259).");
        }

        var fault = JsonFault.Of(bad, "");
        return Problems.RequestInvalid(fault.Field.Length > 0 ? fault.Field : null, fault.Detail, fault.Remedy);
    }
}
