using System.Text;
using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Hosting;

/// <summary>Answers of endpoints.</summary>
public static class Answers
{
    /// <summary>The value as JSON.</summary>
    public static IResult Json<T>(T value, int status = StatusCodes.Status200OK, string mediaType = "application/json") =>
        new JsonBytes<T>(value, status, mediaType);

    /// <summary>A file to keep, under that name.</summary>
    public static IResult File(byte[] body, string mediaType, string name) => new FileBytes(body, mediaType, name);

    /// <summary>A table (RFC 4180). It begins with a byte order mark: without one, office programs take UTF-8 for an older alphabet.</summary>
    public static IResult Csv(string table, string name) => File([.. Encoding.UTF8.Preamble, .. Encoding.UTF8.GetBytes(table)], CsvMediaType, name);

    /// <summary>The media type of a table.</summary>
    public const string CsvMediaType = "text/csv";

    /// <summary>That the endpoint answers with a table where that form is asked for, for its description.</summary>
    public static RouteHandlerBuilder ProducesTable(this RouteHandlerBuilder endpoint) => endpoint.WithMetadata(new AlsoTable());

    /// <summary>The problems that an endpoint may answer with, for its description.</summary>
    public static RouteHandlerBuilder ProducesProblems(this RouteHandlerBuilder endpoint, params ReadOnlySpan<int> statuses)
    {
        foreach (var status in statuses) endpoint.Produces<Problem>(status, ProblemMedia.Type);
        return endpoint;
    }

    // Written whole with its length: small answers, and clients that keep the connection know where they end.
    private sealed class JsonBytes<T>(T value, int status, string mediaType) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            var body = JsonSerializer.SerializeToUtf8Bytes(value, WireJson.Lenient);
            httpContext.Response.StatusCode = status;
            httpContext.Response.ContentType = mediaType;
            httpContext.Response.ContentLength = body.Length;
            return httpContext.Response.Body.WriteAsync(body, httpContext.RequestAborted).AsTask();
        }
    }

    private sealed class FileBytes(byte[] body, string mediaType, string name) : IResult
    {
        public Task ExecuteAsync(HttpContext httpContext)
        {
            httpContext.Response.ContentType = mediaType;
            httpContext.Response.ContentLength = body.Length;
            httpContext.Response.Headers.ContentDisposition = $"inline; filename=\"{name}\"";
            return httpContext.Response.Body.WriteAsync(body, httpContext.RequestAborted).AsTask();
        }
    }
}
