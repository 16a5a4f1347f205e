using System.Diagnostics.Metrics;

namespace FleetLight.Service.Works;

/// <summary>What the projection measures of itself.</summary>
public sealed class WorksMetrics
{
    private readonly Counter<long> events;
    private readonly Histogram<int> pages;
    private readonly Histogram<double> lag;
    private readonly Counter<long> asides;
    private readonly TimeProvider clock;
    private long open;

    /// <summary>Makes the instruments.</summary>
    public WorksMetrics(IMeterFactory meters, TimeProvider clock)
    {
        this.clock = clock;
        var meter = meters.Create("FleetLight");
        events = meter.CreateCounter<long>("fleetlight.projected", "{event}", "Events that the projection has taken in");
        pages = meter.CreateHistogram<int>("fleetlight.projected.page", "{event}", "Events of one organisation in one page");
        lag = meter.CreateHistogram<double>("fleetlight.projection.lag", "s", "Age of the oldest event of a page when it was projected");
        asides = meter.CreateCounter<long>("fleetlight.set-aside", "{piece}", "Facts and things that the projection set aside");
        meter.CreateObservableGauge("fleetlight.set-aside.open", () => Volatile.Read(ref open), "{piece}", "Facts and things that stand aside now");
    }

    /// <summary>A page set these aside.</summary>
    public void SetAside(SetAsides aside)
    {
        if (aside.Units.Count > 0) asides.Add(aside.Units.Count, KeyValuePair.Create<string, object?>("kind", "fact"));
        if (aside.Things.Count > 0) asides.Add(aside.Things.Count, KeyValuePair.Create<string, object?>("kind", "thing"));
    }

    /// <summary>So many stand aside now.</summary>
    public void Open(long pieces) => Volatile.Write(ref open, pieces);

    /// <summary>A page was projected.</summary>
    public void Projected(WorksPage page)
    {
        events.Add(page.Events);
        pages.Record(page.Events);
        lag.Record((clock.GetUtcNow() - page.OldestAt).TotalSeconds);
    }
}
