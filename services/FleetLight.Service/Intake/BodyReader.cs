using System.Buffers;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Intake;

/// <summary>Reads a request's body whole, up to the stated size.</summary>
public static class BodyReader
{
    /// <summary>The body, or the problem with its size or its end; at most as many bytes as a batch of events may have.</summary>
    public static Task<(byte[] Body, Problem? Problem)> ReadAsync(HttpRequest request, CancellationToken cancel) =>
        ReadAsync(request, Envelope.MostBytes, TooLarge, cancel);

    /// <summary>The body, or the problem with its size or its end.</summary>
    /// <param name="request">The request.</param>
    /// <param name="most">Most bytes.</param>
    /// <param name="tooLarge">The problem of more bytes.</param>
    /// <param name="cancel">Ends it.</param>
    public static async Task<(byte[] Body, Problem? Problem)> ReadAsync(
        HttpRequest request, int most, Func<Problem> tooLarge, CancellationToken cancel)
    {
        if (request.ContentLength > most) return ([], tooLarge());
        try
        {
            while (true)
            {
                var read = await request.BodyReader.ReadAsync(cancel);
                if (read.Buffer.Length > most)
                {
                    request.BodyReader.AdvanceTo(read.Buffer.End);
                    return ([], tooLarge());
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
                ? tooLarge()
                : Hosting.Problems.BodyUnreadable("The connection ended before the body did."));
        }
        catch (IOException) when (!request.HttpContext.RequestAborted.IsCancellationRequested)
        {
            // The web server's word for a chunk whose stated length no machine can hold.
            return ([], Hosting.Problems.BodyUnreadable("The body is not cut into chunks as RFC 9112 asks."));
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
