using FleetLight.Contracts.Wire;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Intake;

/// <summary>
/// Cuts the text of a JSON array into the texts of its members by following brackets and strings only, so that a member
/// which is not JSON at all costs that member and not its neighbours.
/// </summary>
public static class JsonSlices
{
    /// <summary>The members, or the problem of the array as a whole.</summary>
    public static Problem? TrySplit(ReadOnlyMemory<byte> body, int most, out List<ReadOnlyMemory<byte>> members)
    {
        members = [];
        var text = body.Span;
        var (start, end) = Trim(text, 0, text.Length);
        if (start == end) return Problems.BodyUnreadable("The body is empty.");
        if (text[start] != '[') return Problems.BodyUnreadable("A batch is a JSON array of events.");
        var memberStart = start + 1;
        var depth = 0;
        var inString = false;
        for (var at = start; at < end; at++)
        {
            var symbol = text[at];
            if (inString)
            {
                if (symbol == '\\') at++;
                else if (symbol == '"') inString = false;
                continue;
            }

            switch (symbol)
            {
                case (byte)'"':
                    inString = true;
                    break;
                case (byte)'[' or (byte)'{':
                    depth++;
                    break;
                case (byte)',' when depth == 1:
                    if (Add(body, memberStart, at, most, members) is { } tooMany) return tooMany;
                    memberStart = at + 1;
                    break;
                case (byte)']' or (byte)'}':
                    depth--;
                    if (depth > 0) break;
                    if (at != end - 1) return Problems.BodyUnreadable($"There is more after the end of the batch, at byte {at + 2}.");
                    return Finish(body, memberStart, at, most, members);
            }
        }

        return Problems.BodyUnreadable($"The body ends after {text.Length} bytes in the middle of the batch: it was cut short.");
    }

    private static Problem? Finish(ReadOnlyMemory<byte> body, int from, int to, int most, List<ReadOnlyMemory<byte>> members)
    {
        var (start, end) = Trim(body.Span, from, to);
        if (start == end && members.Count == 0)
        {
            return new Problem
            {
                Type = ProblemTypes.BatchEmpty,
                Title = "The batch holds no event",
                Status = StatusCodes.Status400BadRequest,
                Remedy = "Send at least one event. To ask for the receipt alone, use GET /v1/devices/self/receipts.",
            };
        }

        return Add(body, from, to, most, members);
    }

    private static Problem? Add(ReadOnlyMemory<byte> body, int from, int to, int most, List<ReadOnlyMemory<byte>> members)
    {
        if (members.Count == most)
        {
            return new Problem
            {
                Type = ProblemTypes.BatchTooLarge,
                Title = "The batch is too large",
                Status = StatusCodes.Status413PayloadTooLarge,
                Detail = $"At most {most} events are taken in one batch.",
                Remedy = "Send the events in smaller batches. Nothing of this request was recorded.",
            };
        }

        var (start, end) = Trim(body.Span, from, to);
        members.Add(body[start..end]);
        return null;
    }

    private static (int Start, int End) Trim(ReadOnlySpan<byte> text, int start, int end)
    {
        while (start < end && IsBlank(text[start])) start++;
        while (end > start && IsBlank(text[end - 1])) end--;
        return (start, end);
    }

    private static bool IsBlank(byte symbol) => symbol is (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'\n';
}
