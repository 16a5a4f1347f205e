using System.Text.RegularExpressions;
using FleetLight.Contracts.Wire;
using Microsoft.AspNetCore.Diagnostics;
using Npgsql;

namespace FleetLight.Service.Hosting;

/// <summary>Turns what went wrong into a problem that says what to do and nothing about the inside.</summary>
public sealed partial class FaultHandler(ILogger<FaultHandler> log) : IExceptionHandler
{
    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (httpContext.RequestAborted.IsCancellationRequested)
        {
            // Nobody reads the answer; the request's line in the log says why there is none.
            httpContext.Response.StatusCode = StatusCodes.Status499ClientClosedRequest;
            return true;
        }

        if (exception is BadHttpRequestException bad)
        {
            await Problems.WriteAsync(httpContext, new Problem
            {
                Type = ProblemTypes.ParameterInvalid,
                Title = "The request is not understood",
                Status = bad.StatusCode,
                Detail = bad.StatusCode == StatusCodes.Status413PayloadTooLarge ? "The body is too large." : "A parameter or the body cannot be read.",
                Field = Parameter().Match(bad.Message) is { Success: true } named ? named.Groups[1].Value : null,
                Remedy = "Compare the request with /openapi/v1.json.",
            });
            return true;
        }

        if (IsDatabase(exception))
        {
            log.LogWarning(exception, "The database did not answer");
            httpContext.Response.Headers.RetryAfter = "2";
            await Problems.WriteAsync(httpContext, Problems.Unavailable());
            return true;
        }

        log.LogError(exception, "Unexpected fault");
        await Problems.WriteAsync(httpContext, Problems.Internal());
        return true;
    }

    // The framework says: Failed to bind parameter "Nullable<int> limit" from "ten".
    [GeneratedRegex("^Failed to bind parameter \"\\S+ (\\w+)\"")]
    private static partial Regex Parameter();

    private static bool IsDatabase(Exception? exception)
    {
        for (var each = exception; each is not null; each = each.InnerException)
        {
            // A statement that the database understood and refused for what it holds fails again: that is no outage.
            if (each is PostgresException { SqlState: ['2', '2' or '3', ..] }) return false;
            if (each is NpgsqlException or TimeoutException or System.Net.Sockets.SocketException) return true;
        }

        return false;
    }
}
