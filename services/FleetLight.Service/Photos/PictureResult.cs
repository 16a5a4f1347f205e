using FleetLight.Record.Photos;

namespace FleetLight.Service.Photos;

/// <summary>Answers with a picture, or with 304 where the caller has it already.</summary>
public sealed class PictureResult(Attachment picture) : IResult
{
    /// <inheritdoc/>
    public Task ExecuteAsync(HttpContext httpContext)
    {
        var (view, response) = (picture.View, httpContext.Response);
        var tag = $"\"{view.Sha256}\"";
        response.Headers.ETag = tag;
        // Bytes of a digest never change; they are this caller's only.
        response.Headers.CacheControl = "private, max-age=31536000, immutable";
        response.Headers.Vary = "Authorization";
        response.Headers.ContentDisposition = $"inline; filename=\"{view.Sha256[..16]}.{Pictures.EndingOf(view.MediaType)}\"";
        if (httpContext.Request.Headers.IfNoneMatch.Any(given => given?.Contains(tag, StringComparison.Ordinal) == true))
        {
            response.StatusCode = StatusCodes.Status304NotModified;
            return Task.CompletedTask;
        }

        response.ContentType = view.MediaType;
        response.ContentLength = view.SizeBytes;
        return picture.Body is { } body ? response.Body.WriteAsync(body, httpContext.RequestAborted).AsTask() : Task.CompletedTask;
    }
}
