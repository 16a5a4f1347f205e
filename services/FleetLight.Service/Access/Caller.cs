namespace FleetLight.Service.Access;

/// <summary>Who calls: an organisation's key and what it allows.</summary>
/// <param name="KeyId">Public part of the key.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Organisation">The organisation, which is the tenant of the store.</param>
/// <param name="Source">The device that it speaks for.</param>
/// <param name="Scopes">What it allows.</param>
/// <param name="Host">Whether it may make keys for other organisations.</param>
public sealed record Caller(string KeyId, string Name, string Organisation, string? Source, IReadOnlyList<Scope> Scopes, bool Host)
{
    /// <summary>The caller of this request; set by <see cref="KeyAccess"/> before any endpoint that names a scope.</summary>
    public static Caller Of(HttpContext context) => (Caller)context.Items[typeof(Caller)]!;

    /// <summary>Binds as a parameter of an endpoint.</summary>
    public static ValueTask<Caller?> BindAsync(HttpContext context) => ValueTask.FromResult<Caller?>(Of(context));
}

/// <summary>The scope that an endpoint asks for, as its metadata.</summary>
/// <param name="Scope">The scope.</param>
public sealed record RequiredScope(Scope Scope);

/// <summary>Names scopes on endpoints.</summary>
public static class ScopeExtensions
{
    /// <summary>The endpoint asks for a key with that scope.</summary>
    public static TBuilder Needs<TBuilder>(this TBuilder builder, Scope scope) where TBuilder : IEndpointConventionBuilder
    {
        builder.Add(endpoint => endpoint.Metadata.Add(new RequiredScope(scope)));
        return builder;
    }
}
