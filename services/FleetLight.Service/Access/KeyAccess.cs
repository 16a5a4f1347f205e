using FleetLight.Service.Hosting;

namespace FleetLight.Service.Access;

/// <summary>Lets a request through to an endpoint that names a scope only with a key that has it.</summary>
public sealed class KeyAccess(RequestDelegate next, KeyDirectory keys)
{
    /// <summary>Runs once a request.</summary>
    public async Task InvokeAsync(HttpContext context)
    {
        var needed = context.GetEndpoint()?.Metadata.GetMetadata<RequiredScope>();
        if (needed is null)
        {
            await next(context);
            return;
        }

        var given = KeyOf(context.Request);
        var caller = given is null
            ? null
            : await TimeLimit.RunAsync(TimeLimit.KeyLookUp, token => keys.FindAsync(given, token).AsTask(), context.RequestAborted);
        if (caller is null)
        {
            context.Response.Headers.WWWAuthenticate = "Bearer";
            await Problems.WriteAsync(context, Problems.KeyMissing(given is not null));
            return;
        }

        if (!caller.Scopes.Contains(needed.Scope))
        {
            await Problems.WriteAsync(context, Problems.ScopeMissing(needed.Scope));
            return;
        }

        context.Items[typeof(Caller)] = caller;
        await next(context);
    }

    private static string? KeyOf(HttpRequest request)
    {
        const string scheme = "Bearer ";
        var header = request.Headers.Authorization.ToString();
        return header.StartsWith(scheme, StringComparison.OrdinalIgnoreCase) && header.Length is > 7 and < 300
            ? header[scheme.Length..].Trim()
            : null;
    }
}
