using FleetLight.Service.Sync;
using Microsoft.Extensions.Primitives;

namespace FleetLight.Service.Circuits;

/// <summary>Answers with a remembered state, or with 304 where the caller has it already.</summary>
public sealed class RenderedResult(Rendered rendered) : IResult
{
    /// <inheritdoc/>
    public Task ExecuteAsync(HttpContext httpContext)
    {
        var response = httpContext.Response;
        response.Headers.ETag = rendered.ETag;
        // The state may be kept but must be asked after each time, and it is this caller's only.
        if (rendered.SeenThrough is { } seen) response.Headers[FeedCursor.SeenThroughHeader] = FeedCursor.EndOf(seen).ToString();
        response.Headers.CacheControl = "private, no-cache";
        if (Has(httpContext.Request.Headers.IfNoneMatch, rendered.ETag))
        {
            response.StatusCode = StatusCodes.Status304NotModified;
            return Task.CompletedTask;
        }

        response.ContentType = "application/json";
        response.ContentLength = rendered.Body.Length;
        return response.Body.WriteAsync(rendered.Body, httpContext.RequestAborted).AsTask();
    }

    private static bool Has(StringValues given, string tag)
    {
        foreach (var header in given)
        {
            if (header is null) continue;
            if (string.Equals(header, tag, StringComparison.Ordinal) || header == "*") return true;
            if (header.Contains(',', StringComparison.Ordinal) || header.StartsWith("W/", StringComparison.Ordinal))
            {
                foreach (var part in header.Split(','))
                {
                    var each = part.Trim();
                    if (each.StartsWith("W/", StringComparison.Ordinal)) each = each[2..];
                    if (string.Equals(each, tag, StringComparison.Ordinal)) return true;
                }
            }
        }

        return false;
    }
}
