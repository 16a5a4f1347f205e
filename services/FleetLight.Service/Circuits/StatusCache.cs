using System.Collections.Concurrent;
using System.Security.Cryptography;
using System.Text.Json;
using FleetLight.Contracts.Wire;

namespace FleetLight.Service.Circuits;

/// <summary>A state as it is answered: its bytes and the entity tag that follows from them.</summary>
/// <param name="Body">UTF-8 JSON.</param>
/// <param name="ETag">Strong entity tag (RFC 9110).</param>
public sealed record Rendered(byte[] Body, string ETag)
{
    /// <summary>Position in the change feed through which the state may hold changes; none where nobody needs it.</summary>
    public long? SeenThrough { get; init; }

    /// <summary>The state with the tag that follows from it: the same state has the same tag on every node and after a rebuild.</summary>
    public static Rendered Of<T>(T state) => OfBytes(JsonSerializer.SerializeToUtf8Bytes(state, WireJson.Lenient));

    private static Rendered OfBytes(byte[] body) => new(body, $"\"{Convert.ToHexStringLower(SHA256.HashData(body).AsSpan(0, 12))}\"");
}

/// <summary>
/// Remembers the states of circuits that are polled. An entry lives until the change feed says that the circuit changed,
/// and none is kept while the feed cannot be followed.
/// </summary>
public sealed class StatusCache(ReadMetrics metrics)
{
    private const int MostRemembered = 50_000;
    private readonly ConcurrentDictionary<(string, string), Task<Rendered?>> entries = new();
    private volatile bool following;
    private long followed;

    /// <summary>The state, remembered or loaded; loaded where the caller has seen more of the feed than this node has followed.</summary>
    public Task<Rendered?> GetAsync(string organisation, string circuitId, long seenThrough, Func<Task<Rendered?>> load)
    {
        var may = following && seenThrough <= Volatile.Read(ref followed);
        var hit = entries.TryGetValue((organisation, circuitId), out var known) && may;
        metrics.LookedUp(hit);
        if (hit) return known!;
        if (!may) return load();
        if (entries.Count >= MostRemembered) entries.Clear();

        // The entry stands before the load begins: a change that comes in between takes it away again, so what was loaded
        // too early is never remembered.
        var loading = new TaskCompletionSource<Rendered?>(TaskCreationOptions.RunContinuationsAsynchronously);
        var entry = entries.GetOrAdd((organisation, circuitId), loading.Task);
        if (entry != loading.Task) return entry;
        return LoadAsync((organisation, circuitId), loading, load);
    }

    /// <summary>The circuit changed.</summary>
    public void Forget(string organisation, string circuitId) => entries.TryRemove((organisation, circuitId), out _);

    /// <summary>The feed cannot be followed.</summary>
    public void Pause()
    {
        following = false;
        entries.Clear();
    }

    /// <summary>The feed is followed from that position on.</summary>
    public void Resume(long position)
    {
        entries.Clear();
        Volatile.Write(ref followed, position);
        following = true;
    }

    /// <summary>Everything through that position was followed.</summary>
    public void Followed(long position) => Volatile.Write(ref followed, Math.Max(position, Volatile.Read(ref followed)));

    private async Task<Rendered?> LoadAsync((string, string) key, TaskCompletionSource<Rendered?> loading, Func<Task<Rendered?>> load)
    {
        try
        {
            var rendered = await load();
            if (rendered is null || !following) entries.TryRemove(KeyValuePair.Create(key, loading.Task));
            loading.SetResult(rendered);
            return rendered;
        }
        catch (Exception bad)
        {
            entries.TryRemove(KeyValuePair.Create(key, loading.Task));
            loading.SetException(bad);
            throw;
        }
    }
}
