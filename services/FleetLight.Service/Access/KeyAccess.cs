using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;

namespace FleetLight.Service.Access;

/// <summary>Lets a request through to an endpoint that asks for a key only with one that allows it, and not more often than it may.</summary>
public sealed class KeyAccess(RequestDelegate next, KeyDirectory keys, RateGate gate)
{
    // A key has 56 characters; the longest header that the server takes is shorter than any token may be.
    private const int MostLetters = 16_384;

    /// <summary>Runs once a request.</summary>
    public async Task InvokeAsync(HttpContext context)
    {
        var endpoint = context.GetEndpoint();
        var needed = endpoint?.Metadata.GetMetadata<RequiredScope>();
        if (needed is null)
        {
            if (endpoint is null || await gate.EnterAsync(context, Anonymous(context))) await next(context);
            return;
        }

        var given = BearerOf(context.Request);
        var caller = given is null ? null : await keys.FindAsync(given, context.RequestAborted);
        if (caller is null)
        {
            if (!await gate.EnterAsync(context, CallKind.Anonymous)) return;
            context.Response.Headers.WWWAuthenticate = "Bearer";
            await Problems.WriteAsync(context, Problems.KeyMissing(given is not null));
            return;
        }

        if (!await gate.EnterAsync(context, CallKinds.Of(context), caller.KeyId)) return;
        if (needed.Scope is { } scope && !caller.May(scope))
        {
            await Problems.WriteAsync(context, Problems.ScopeMissing(scope));
            return;
        }

        context.Items[typeof(Caller)] = caller;
        await next(context);
    }

    private static CallKind Anonymous(HttpContext context) => CallKinds.Of(context) == CallKind.Exchange ? CallKind.Exchange : CallKind.Anonymous;

    private static string? BearerOf(HttpRequest request)
    {
        const string scheme = "Bearer ";
        var header = request.Headers.Authorization.ToString();
        return header.StartsWith(scheme, StringComparison.OrdinalIgnoreCase) && header.Length is > 7 and < MostLetters
            ? header[scheme.Length..].Trim()
            : null;
    }
}
