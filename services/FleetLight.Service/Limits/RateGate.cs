using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Threading.RateLimiting;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Limits;

/// <summary>Counts the calls of each key and address, and turns away those that come too thick.</summary>
public sealed class RateGate(RateLimits limits) : IAsyncDisposable
{
    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(100);

    private readonly PartitionedRateLimiter<(CallKind Kind, string Who)> buckets = PartitionedRateLimiter.Create<(CallKind Kind, string Who), (CallKind, string)>(
        call => RateLimitPartition.GetTokenBucketLimiter(call, who => Bucket(limits[who.Item1])));

    /// <summary>Whether the call may go on; otherwise it has been answered.</summary>
    public ValueTask<bool> EnterAsync(HttpContext context, CallKind kind, string who)
    {
        using var lease = buckets.AttemptAcquire((kind, who));
        return lease.IsAcquired ? ValueTask.FromResult(true) : new ValueTask<bool>(RefuseAsync(context, lease));
    }

    /// <summary>Whether a call without a key may go on, by its network address; otherwise it has been answered.</summary>
    public ValueTask<bool> EnterAsync(HttpContext context, CallKind kind) => EnterAsync(context, kind, NetworkOf(context.Connection.RemoteIpAddress));

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => buckets.DisposeAsync();

    /// <summary>The network that an address counts for: itself, or for IPv6 the 64 leading bits, which one household has to itself.</summary>
    public static string NetworkOf(IPAddress? address)
    {
        if (address is null) return "";
        if (address.IsIPv4MappedToIPv6) address = address.MapToIPv4();
        if (address.AddressFamily != AddressFamily.InterNetworkV6) return address.ToString();
        Span<byte> bytes = stackalloc byte[16];
        address.TryWriteBytes(bytes, out _);
        bytes[8..].Clear();
        return new IPAddress(bytes).ToString();
    }

    private static async Task<bool> RefuseAsync(HttpContext context, RateLimitLease lease)
    {
        var wait = lease.TryGetMetadata(MetadataName.RetryAfter, out var after) ? Math.Max(1, Math.Ceiling(after.TotalSeconds)) : 1;
        context.Response.Headers.RetryAfter = wait.ToString(CultureInfo.InvariantCulture);
        await Problems.WriteAsync(context, Problems.TooManyRequests());
        return false;
    }

    private static TokenBucketRateLimiterOptions Bucket(RateLimit limit) => new()
    {
        TokenLimit = limit.Burst,
        ReplenishmentPeriod = limit.PerSecond >= 10 ? Tick : TimeSpan.FromSeconds(1 / limit.PerSecond),
        TokensPerPeriod = limit.PerSecond >= 10 ? Math.Max(1, (int)(limit.PerSecond * Tick.TotalSeconds)) : 1,
        QueueLimit = 0,
    };
}
