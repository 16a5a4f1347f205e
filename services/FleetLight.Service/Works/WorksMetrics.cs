using System.Diagnostics.Metrics;

namespace FleetLight.Service.Works;

/// <summary>What the projection measures of itself.</summary>
public sealed class WorksMetrics
{
    private readonly Counter<long> events;
    private readonly Histogram<int> pages;
    private readonly Histogram<double> lag;
    private readonly TimeProvider clock;

    /// <summary>Makes the instruments.</summary>
    public WorksMetrics(IMeterFactory meters, TimeProvider clock)
    {
        this.clock = clock;
        var meter = meters.Create("FleetLight");
        events = meter.CreateCounter<long>("fleetlight.projected", "{event}", "Events that the projection has taken in");
        pages = meter.CreateHistogram<int>("fleetlight.projected.page", "{event}", "Events of one organisation in one page");
        lag = meter.CreateHistogram<double>("fleetlight.projection.lag", "s", "Age of the oldest event of a page when it was projected");
    }

    /// <summary>A page was projected.</summary>
    public void Projected(WorksPage page)
    {
        events.Add(page.Events);
        pages.Record(page.Events);
        lag.Record((clock.GetUtcNow() - page.OldestAt).TotalSeconds);
    }
}
