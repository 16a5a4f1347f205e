namespace FleetLight.Service.Access;

/// <summary>Who calls: an organisation's key or a person's token, and what it allows.</summary>
/// <param name="KeyId">Public part of the key; for a token, its issuer and subject.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Organisation">The organisation, which is the tenant of the store.</param>
/// <param name="Source">The device that it speaks for.</param>
/// <param name="Role">The role that it was given, where it was given one.</param>
/// <param name="Scopes">What it allows.</param>
/// <param name="Host">Whether it may make keys for other organisations.</param>
/// <param name="Until">When a token ends; none for a key.</param>
/// <param name="Holder">The first key of those that replaced one another up to this one; none for a token.</param>
public sealed record Caller(
    string KeyId, string Name, string Organisation, string? Source, Role? Role, IReadOnlyList<Scope> Scopes, bool Host, DateTimeOffset? Until = null,
    string? Holder = null)
{
    /// <summary>Whether it is a person's token and no key.</summary>
    public bool IsPerson => Until is not null;

    /// <summary>Whether it allows that.</summary>
    public bool May(Scope scope) => Roles.Allow(Scopes, scope);

    /// <summary>The caller of this request; set by <see cref="KeyAccess"/> before any endpoint that asks for a key.</summary>
    public static Caller Of(HttpContext context) => (Caller)context.Items[typeof(Caller)]!;

    /// <summary>Binds as a parameter of an endpoint.</summary>
    public static ValueTask<Caller?> BindAsync(HttpContext context) => ValueTask.FromResult<Caller?>(Of(context));
}

/// <summary>What an endpoint asks of its caller, as its metadata.</summary>
/// <param name="Scope">The scope; any key will do where absent.</param>
public sealed record RequiredScope(Scope? Scope);

/// <summary>Names scopes on endpoints.</summary>
public static class ScopeExtensions
{
    /// <summary>The endpoint asks for a key with that scope.</summary>
    public static TBuilder Needs<TBuilder>(this TBuilder builder, Scope scope) where TBuilder : IEndpointConventionBuilder =>
        builder.Asks(new RequiredScope(scope));

    /// <summary>The endpoint asks for a key, whatever it allows.</summary>
    public static TBuilder NeedsAnyKey<TBuilder>(this TBuilder builder) where TBuilder : IEndpointConventionBuilder =>
        builder.Asks(new RequiredScope(null));

    private static TBuilder Asks<TBuilder>(this TBuilder builder, RequiredScope required) where TBuilder : IEndpointConventionBuilder
    {
        builder.Add(endpoint => endpoint.Metadata.Add(required));
        return builder;
    }
}
