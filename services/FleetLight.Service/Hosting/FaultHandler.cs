using FleetLight.Contracts.Wire;
using Microsoft.AspNetCore.Diagnostics;
using Npgsql;

namespace FleetLight.Service.Hosting;

/// <summary>Turns what went wrong into a problem that says what to do and nothing about the inside.</summary>
public sealed class FaultHandler(ILogger<FaultHandler> log) : IExceptionHandler
{
    /// <inheritdoc/>
    public async ValueTask<bool> TryHandleAsync(HttpContext httpContext, Exception exception, CancellationToken cancellationToken)
    {
        if (httpContext.RequestAborted.IsCancellationRequested) return true;
        if (exception is BadHttpRequestException bad)
        {
            await Problems.WriteAsync(httpContext, new Problem
            {
                Type = ProblemTypes.ParameterInvalid,
                Title = "The request is not understood",
                Status = bad.StatusCode,
                Detail = bad.StatusCode == StatusCodes.Status413PayloadTooLarge ? "The body is too large." : "A parameter or the body cannot be read.",
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

    private static bool IsDatabase(Exception? exception)
    {
        for (var each = exception; each is not null; each = each.InnerException)
        {
            if (each is NpgsqlException or TimeoutException or System.Net.Sockets.SocketException) return true;
        }

        return false;
    }
}
