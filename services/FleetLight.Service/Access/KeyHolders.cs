using Marten;

namespace FleetLight.Service.Access;

/// <summary>Whether whoever holds a key still holds one: a key that replaces another has the same holder.</summary>
public sealed class KeyHolders(IDocumentStore store, TimeProvider clock)
{
    /// <summary>The holder of a key: the first of those that replaced one another.</summary>
    public static string Of(KeyRecord key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return key.Holder ?? key.Id;
    }

    /// <summary>Whether a key of that holder is in force and allows that.</summary>
    public async Task<bool> StillAsync(string organisation, string holder, Scope scope, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        var keys = await session.Query<KeyRecord>()
            .Where(key => key.Organisation == organisation && (key.Id == holder || key.Holder == holder)).ToListAsync(cancel);
        var now = clock.GetUtcNow();
        return keys.Any(key => key.InForce(now) && Roles.Allow(key.Allows(), scope));
    }
}
