using System.Buffers;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Intake;

/// <summary>Reads a request's body whole, up to the stated size.</summary>
public static class BodyReader
{
    /// <summary>The body, or the problem with its size or its end.</summary>
    public static async Task<(byte[] Body, Problem? Problem)> ReadAsync(HttpRequest request, CancellationToken cancel)
    {
        if (request.ContentLength > Envelope.MostBytes) return ([], TooLarge());
        try
        {
            while (true)
            {
                var read = await request.BodyReader.ReadAsync(cancel);
                if (read.Buffer.Length > Envelope.MostBytes)
                {
                    request.BodyReader.AdvanceTo(read.Buffer.End);
                    return ([], TooLarge());
                }

                if (read.IsCompleted)
                {
                    var body = read.Buffer.ToArray();
                    request.BodyReader.AdvanceTo(read.Buffer.End);
                    return (body, null);
                }

                request.BodyReader.AdvanceTo(read.Buffer.Start, read.Buffer.End);
            }
        }
        catch (BadHttpRequestException cut)
        {
            return ([], cut.StatusCode == StatusCodes.Status413PayloadTooLarge
                ? TooLarge()
                : Hosting.Problems.BodyUnreadable("The connection ended before the body did."));
        }
    }

    private static Problem TooLarge() => new()
    {
        Type = ProblemTypes.BatchTooLarge,
        Title = "The batch is too large",
        Status = StatusCodes.Status413PayloadTooLarge,
        Detail = $"At most {Envelope.MostBytes} bytes are taken in one request.",
        Remedy = "Send the events in smaller batches. Nothing of this request was recorded.",
    };
}
