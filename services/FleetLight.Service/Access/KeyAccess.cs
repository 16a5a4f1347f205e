using FleetLight.Contracts.Wire;
using FleetLight.Service.Access.People;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;

namespace FleetLight.Service.Access;

/// <summary>
/// Lets a request through to an endpoint that asks for a key only with a key or a token that allows it, and not more often than
/// it may.
/// </summary>
public sealed class KeyAccess(RequestDelegate next, KeyDirectory keys, PeopleDirectory people, RateGate gate, ILogger<KeyAccess> log)
{
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

        var (caller, problem) = await FindAsync(context);
        if (caller is null)
        {
            if (!await gate.EnterAsync(context, CallKind.Anonymous)) return;
            log.LogInformation("A caller from {Address} was not let in: {Why}", context.Connection.RemoteIpAddress, problem!.Detail);
            await RefuseAsync(context, problem);
            return;
        }

        if (!await gate.EnterAsync(context, CallKinds.Of(context), caller.KeyId)) return;
        if (needed.Scope is { } scope && !caller.May(scope))
        {
            log.LogInformation(
                "{Caller} of {Organisation} from {Address} was refused for want of {Scope}", caller.KeyId, caller.Organisation,
                context.Connection.RemoteIpAddress, scope);
            await Problems.WriteAsync(context, Problems.ScopeMissing(scope));
            return;
        }

        context.Items[typeof(Caller)] = caller;
        await next(context);
    }

    // A key has one dot; a token (compact JWS, RFC 7515) has two. What has neither is nothing that was ever given out.
    private async ValueTask<(Caller? Caller, Problem? Problem)> FindAsync(HttpContext context)
    {
        if (GivenIn(context) is not { } given) return (null, Problems.KeyMissing(false));
        var dots = given.AsSpan().Count('.');
        if (dots == 1)
        {
            var known = keys.FindAsync(given, context.RequestAborted);
            // Most keys are remembered; only a look-up in the store may take its time.
            return (known.IsCompletedSuccessfully
                ? known.Result
                : await TimeLimit.RunAsync(TimeLimit.KeyLookUp, _ => known.AsTask(), context.RequestAborted), Problems.KeyMissing(true));
        }

        if (dots != 2 || !people.Any) return (null, Problems.KeyMissing(true));
        var found = await people.FindAsync(given);
        return (found.Caller, found.Why switch
        {
            TokenFault.None => null,
            TokenFault.IssuerSilent => Problems.IssuerSilent(),
            TokenFault.NoOrganisation => Problems.TokenOfNobody("organisation"),
            TokenFault.NoRole => Problems.TokenOfNobody("role"),
            _ => Problems.TokenNotTaken(),
        });
    }

    private static Task RefuseAsync(HttpContext context, Problem problem)
    {
        if (problem.Status == StatusCodes.Status401Unauthorized) context.Response.Headers.WWWAuthenticate = TakesBasic(context) ? BasicKey.Challenge : "Bearer";
        if (problem.Status == StatusCodes.Status503ServiceUnavailable) context.Response.Headers.RetryAfter = "5";
        return Problems.WriteAsync(context, problem);
    }

    private static CallKind Anonymous(HttpContext context) => CallKinds.Of(context) == CallKind.Exchange ? CallKind.Exchange : CallKind.Anonymous;

    private static bool TakesBasic(HttpContext context) => context.GetEndpoint()?.Metadata.GetMetadata<TakesBasicKey>() is not null;

    private static string? GivenIn(HttpContext context)
    {
        const string scheme = "Bearer ";
        var header = context.Request.Headers.Authorization.ToString();
        if (header.Length < MostLetters && TakesBasic(context) && BasicKey.PasswordOf(header) is { } password) return password;
        return header.StartsWith(scheme, StringComparison.OrdinalIgnoreCase) && header.Length is > 7 and < MostLetters
            ? header[scheme.Length..].Trim()
            : null;
    }
}
