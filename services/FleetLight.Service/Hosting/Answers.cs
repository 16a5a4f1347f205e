using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Hosting;

/// <summary>Answers of endpoints.</summary>
public static class Answers
{
    /// <summary>The value as JSON.</summary>
    public static IResult Json<T>(T value, int status = StatusCodes.Status200OK, string mediaType = "application/json") =>
        new JsonBytes<T>(value, status, mediaType);

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
}
