using System.Collections.Concurrent;
using System.Runtime.InteropServices;
using System.Security.Cryptography;
using System.Text;
using Marten;

namespace FleetLight.Service.Access;

/// <summary>
/// Finds the caller of a key. What was found is remembered for a moment; <see cref="KeyFollower"/> has a key forgotten as soon
/// as it ends, on whichever node.
/// </summary>
public sealed class KeyDirectory(IDocumentStore store, TimeProvider clock)
{
    /// <summary>How long a key is remembered: so long another node may honour one that ended while the word of it was lost.</summary>
    public static readonly TimeSpan Remembered = TimeSpan.FromSeconds(2);

    private const int MostRemembered = 20_000;
    private readonly ConcurrentDictionary<string, Known> known = new(StringComparer.Ordinal);
    private volatile bool remembers;
    private long forgotten;

    /// <summary>The caller whose key that is; none where no such key is in force.</summary>
    public ValueTask<Caller?> FindAsync(string key, CancellationToken cancel)
    {
        var dot = key.IndexOf('.', StringComparison.Ordinal);
        if (dot is < 1 or > 64) return ValueTask.FromResult<Caller?>(null);
        return known.GetAlternateLookup<ReadOnlySpan<char>>().TryGetValue(key.AsSpan(0, dot), out var hit) && IsFresh(hit)
            && CryptographicOperations.FixedTimeEquals(MemoryMarshal.AsBytes(key.AsSpan()), MemoryMarshal.AsBytes(hit.Key.AsSpan()))
            ? ValueTask.FromResult<Caller?>(hit.Caller)
            : new ValueTask<Caller?>(LoadAsync(key, key[..dot], cancel));
    }

    /// <summary>Whether a caller that was let in earlier would be let in now.</summary>
    public async ValueTask<bool> StillAsync(Caller caller, CancellationToken cancel)
    {
        if (caller.Until is { } until) return clock.GetUtcNow() < until;
        if (known.TryGetValue(caller.KeyId, out var hit) && IsFresh(hit)) return true;
        await using var session = store.QuerySession();
        return await session.LoadAsync<KeyRecord>(caller.KeyId, cancel) is { } record && record.InForce(clock.GetUtcNow());
    }

    /// <summary>Forgets a key that ended.</summary>
    public void Forget(string keyId)
    {
        // Whoever loads meanwhile sees that and does not remember what was read before.
        Interlocked.Increment(ref forgotten);
        known.TryRemove(keyId, out _);
    }

    /// <summary>Remembers nothing until it is heard again which keys end.</summary>
    public void Pause()
    {
        remembers = false;
        known.Clear();
    }

    /// <summary>Remembers again.</summary>
    public void Resume() => remembers = true;

    private bool IsFresh(Known hit) => clock.GetElapsedTime(hit.At) < Remembered && !(hit.ValidUntil <= clock.GetUtcNow());

    private async Task<Caller?> LoadAsync(string key, string id, CancellationToken cancel)
    {
        var before = Interlocked.Read(ref forgotten);
        await using var session = store.QuerySession();
        var record = await session.LoadAsync<KeyRecord>(id, cancel);
        if (record is null || !record.InForce(clock.GetUtcNow())) return null;
        var given = Encoding.ASCII.GetBytes(KeyText.Hash(key));
        if (!CryptographicOperations.FixedTimeEquals(given, Encoding.ASCII.GetBytes(record.Hash))) return null;
        if (record.Replaces is not null) await EndReplacedAsync(record, cancel);
        var caller = new Caller(record.Id, record.Name, record.Organisation, record.Source, record.Role, record.Allows(), record.Host, Holder: KeyHolders.Of(record));
        if (!remembers || before != Interlocked.Read(ref forgotten)) return caller;
        if (known.Count >= MostRemembered) known.Clear();
        known[id] = new Known(key, caller, clock.GetTimestamp(), record.ValidUntil);
        // Told between the look above and the line above: rather forget once too often.
        if (before != Interlocked.Read(ref forgotten)) known.TryRemove(id, out _);
        return caller;
    }

    // The new key is in use, so its holder has it: the old one has done its service.
    private Task EndReplacedAsync(KeyRecord used, CancellationToken cancel) => KeyDesk.SaveAsync(store, used.Organisation, async session =>
    {
        if (await session.LoadAsync<KeyRecord>(used.Id, cancel) is not { Replaces: { } replaced } key) return;
        if (await session.LoadAsync<KeyRecord>(replaced, cancel) is { RevokedAt: null } old) KeyDesk.Revoke(session, old, clock.GetUtcNow());
        key.Replaces = null;
        session.Store(key);
    }, cancel);

    private sealed record Known(string Key, Caller Caller, long At, DateTimeOffset? ValidUntil);
}
