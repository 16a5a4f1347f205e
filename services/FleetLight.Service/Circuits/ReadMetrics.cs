using System.Diagnostics.Metrics;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Circuits;

/// <summary>What the reads measure of themselves.</summary>
public sealed class ReadMetrics
{
    private static readonly KeyValuePair<string, object?> Hit = new(Measures.Outcome, "hit");
    private static readonly KeyValuePair<string, object?> Miss = new(Measures.Outcome, "miss");
    private readonly Counter<long> lookups;
    private readonly UpDownCounter<int> followers;

    /// <summary>Makes the instruments.</summary>
    public ReadMetrics(IMeterFactory meters)
    {
        var meter = meters.Create(Measures.MeterName);
        lookups = meter.CreateCounter<long>("fleetlight.status.cache.lookups", "{lookup}", "States of circuits asked of the node's memory");
        followers = meter.CreateUpDownCounter<int>("fleetlight.feed.followers", "{follower}", "Readers that follow the change feed as a stream");
    }

    /// <summary>A state was asked of the memory.</summary>
    public void LookedUp(bool hit) => lookups.Add(1, hit ? Hit : Miss);

    /// <summary>A reader follows the feed until the returned object is disposed of.</summary>
    public IDisposable Follow()
    {
        followers.Add(1);
        return new Follower(followers);
    }

    private sealed class Follower(UpDownCounter<int> followers) : IDisposable
    {
        public void Dispose() => followers.Add(-1);
    }
}
