using System.IO.Compression;
using FleetLight.Service.Hosting;
using Microsoft.Extensions.Primitives;
using Microsoft.Net.Http.Headers;

namespace FleetLight.Service.Exports;

/// <summary>A file whose bytes are the same as long as its tag is.</summary>
public interface IStableFile
{
    /// <summary>Media type.</summary>
    string MediaType { get; }

    /// <summary>Name under which it is kept.</summary>
    string Name { get; }

    /// <summary>Strong entity tag, in quotation marks.</summary>
    string Tag { get; }

    /// <summary>Number of bytes.</summary>
    long Length { get; }

    /// <summary>SHA-256 of the bytes; none where nobody has worked it out yet.</summary>
    byte[]? Sha256 { get; }

    /// <summary>Writes bytes from one to before another.</summary>
    /// <returns>SHA-256 of the bytes, where all were written, it was not known, and they are what was recorded.</returns>
    Task<byte[]?> WriteAsync(Stream into, long from, long to, CancellationToken cancel);
}

/// <summary>
/// Answers with a file: whole, or a range of its bytes (RFC 9110, 14), so that a fetch that broke off goes on; with its digest
/// (RFC 9530) where it is known; compressed where the caller asks for all of it.
/// </summary>
public sealed class StableFileResult(IStableFile file) : IResult
{
    /// <summary>The header with the digest.</summary>
    public const string ReprDigest = "Repr-Digest";

    /// <inheritdoc/>
    public async Task ExecuteAsync(HttpContext httpContext)
    {
        var (request, response) = (httpContext.Request, httpContext.Response);
        var isHead = HttpMethods.IsHead(request.Method);
        var range = RangeOf(request);
        var packed = range is null && TakesGzip(request);
        var tag = packed ? $"{file.Tag[..^1]}-gzip\"" : file.Tag;
        response.Headers.ETag = tag;
        response.Headers.AcceptRanges = "bytes";
        response.Headers.Vary = HeaderNames.AcceptEncoding;
        if (request.Headers.IfNoneMatch.ToString() is { Length: > 0 } known && (known == "*" || known.Contains(tag, StringComparison.Ordinal)))
        {
            response.StatusCode = StatusCodes.Status304NotModified;
            return;
        }

        if (range is { From: var start } && start >= file.Length)
        {
            response.Headers.ContentRange = $"bytes */{file.Length}";
            var beyond = Problems.Parameter(
                "Range", $"The file has {file.Length} bytes.", "Ask for bytes that it has, or for all of it. Where the last byte is in hand, it is whole.");
            await Problems.WriteAsync(httpContext, beyond with { Status = StatusCodes.Status416RangeNotSatisfiable });
            return;
        }

        response.ContentType = file.MediaType;
        response.Headers.ContentDisposition = $"attachment; filename=\"{file.Name}\"";
        // The digest is one of the bytes as they are, and no one knows what a compressed file will be.
        if (!packed && file.Sha256 is { } sha256) response.Headers[ReprDigest] = Digest(sha256);
        if (range is { } part)
        {
            response.StatusCode = StatusCodes.Status206PartialContent;
            response.Headers.ContentRange = $"bytes {part.From}-{part.To - 1}/{file.Length}";
            response.ContentLength = part.To - part.From;
            if (!isHead) await file.WriteAsync(response.Body, part.From, part.To, httpContext.RequestAborted);
            return;
        }

        if (packed) response.Headers.ContentEncoding = "gzip";
        if (isHead)
        {
            if (!packed) response.ContentLength = file.Length;
            return;
        }

        await WholeAsync(httpContext, packed);
    }

    private async Task WholeAsync(HttpContext context, bool packed)
    {
        var response = context.Response;
        if (packed)
        {
            await using var gzip = new GZipStream(response.Body, CompressionLevel.Fastest, leaveOpen: true);
            await file.WriteAsync(gzip, 0, file.Length, context.RequestAborted);
            return;
        }

        if (file.Sha256 is not null) response.ContentLength = file.Length;
        await file.WriteAsync(response.Body, 0, file.Length, context.RequestAborted);
    }

    private static string Digest(byte[] sha256) => $"sha-256=:{Convert.ToBase64String(sha256)}:";

    // One range of bytes; what else a caller may ask for is answered with the whole, as the standard allows.
    private (long From, long To)? RangeOf(HttpRequest request)
    {
        if (!HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method)) return null;
        if (!RangeHeaderValue.TryParse(request.Headers.Range.ToString(), out var header)
            || !StringSegment.Equals(header.Unit, "bytes", StringComparison.OrdinalIgnoreCase) || header.Ranges.Count != 1) return null;
        if (request.Headers.IfRange.ToString() is { Length: > 0 } condition && condition != file.Tag) return null;
        var asked = header.Ranges.Single();
        return asked switch
        {
            { From: { } from, To: { } to } => (from, Math.Min(to + 1, file.Length)),
            { From: { } from } => (from, file.Length),
            { To: 0 } => (file.Length, file.Length),
            { To: { } last } => (Math.Max(0, file.Length - last), file.Length),
            _ => null,
        };
    }

    private static bool TakesGzip(HttpRequest request) =>
        StringWithQualityHeaderValue.TryParseList(request.Headers.AcceptEncoding, out var codings)
        && codings.Any(coding => StringSegment.Equals(coding.Value, "gzip", StringComparison.OrdinalIgnoreCase) && coding.Quality is not 0);
}
