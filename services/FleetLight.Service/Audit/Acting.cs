using FleetLight.Service.Access;
using Marten;

namespace FleetLight.Service.Audit;

/// <summary>Who administers with this request, and from where.</summary>
/// <param name="By">Who.</param>
/// <param name="From">Network address.</param>
/// <param name="At">When the request came.</param>
public sealed record Acting(Actor By, string? From, DateTimeOffset At)
{
    /// <summary>The caller of the request.</summary>
    public static Acting Of(HttpContext context, Caller caller) =>
        Of(context, new Actor(caller.IsPerson ? ActorKind.Person : ActorKind.Key, caller.KeyId, caller.Name));

    /// <summary>Somebody else than its caller.</summary>
    public static Acting Of(HttpContext context, Actor by)
    {
        var address = context.Connection.RemoteIpAddress;
        return new Acting(
            by, (address is { IsIPv4MappedToIPv6: true } ? address.MapToIPv4() : address)?.ToString(),
            context.RequestServices.GetRequiredService<TimeProvider>().GetUtcNow());
    }

    /// <summary>Binds as a parameter of an endpoint.</summary>
    public static ValueTask<Acting?> BindAsync(HttpContext context) => ValueTask.FromResult<Acting?>(Of(context, Caller.Of(context)));

    /// <summary>Notes an act in the session's organisation, with the session's other changes.</summary>
    public void Note(IDocumentSession session, AdministrativeAct act, string? target, params ReadOnlySpan<(string Name, string? Text)> details)
    {
        Dictionary<string, string> told = [];
        foreach (var (name, text) in details)
        {
            if (text is not null) told[name] = text;
        }

        session.Events.Append(AuditEvents.Stream, new ActDone
        {
            Act = act,
            Target = target,
            By = By,
            At = At,
            From = From,
            Details = told.Count > 0 ? told : null,
        });
    }
}
