using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text;
using Marten;

namespace FleetLight.Service.Access;

/// <summary>Finds the caller of a key. What was found is remembered for a few seconds, so a revoked key dies with it.</summary>
public sealed class KeyDirectory(IDocumentStore store, TimeProvider clock)
{
    /// <summary>How long another node may still honour a key that was revoked.</summary>
    public static readonly TimeSpan Remembered = TimeSpan.FromSeconds(5);

    private const int MostRemembered = 20_000;
    private readonly ConcurrentDictionary<string, (Caller Caller, long At)> known = new(StringComparer.Ordinal);

    /// <summary>The caller whose key that is; none where no such key is in force.</summary>
    public ValueTask<Caller?> FindAsync(string key, CancellationToken cancel)
    {
        if (known.TryGetValue(key, out var hit) && clock.GetElapsedTime(hit.At) < Remembered)
            return ValueTask.FromResult<Caller?>(hit.Caller);
        return new ValueTask<Caller?>(LoadAsync(key, cancel));
    }

    /// <summary>Forgets every remembered key, after one was revoked.</summary>
    public void Forget() => known.Clear();

    private async Task<Caller?> LoadAsync(string key, CancellationToken cancel)
    {
        var dot = key.IndexOf('.', StringComparison.Ordinal);
        if (dot is < 1 or > 64) return null;
        await using var session = store.QuerySession();
        var record = await session.LoadAsync<KeyRecord>(key[..dot], cancel);
        if (record is null || record.RevokedAt is not null) return null;
        var given = Encoding.ASCII.GetBytes(KeyText.Hash(key));
        if (!CryptographicOperations.FixedTimeEquals(given, Encoding.ASCII.GetBytes(record.Hash))) return null;
        var caller = new Caller(record.Id, record.Name, record.Organisation, record.Source, record.Scopes, record.Host);
        if (known.Count >= MostRemembered) known.Clear();
        known[key] = (caller, clock.GetTimestamp());
        return caller;
    }
}
