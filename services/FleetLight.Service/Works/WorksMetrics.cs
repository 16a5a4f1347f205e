using System.Diagnostics.Metrics;
using FleetLight.Record.Alerts;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Works;

/// <summary>What the projection measures of itself.</summary>
public sealed class WorksMetrics
{
    private readonly Counter<long> events;
    private readonly Histogram<int> pages;
    private readonly Histogram<double> lag;
    private readonly Counter<long> asides;
    private readonly Histogram<double> durations;
    private readonly Histogram<double> judgements;
    private readonly Counter<long> alerts;
    private readonly TimeProvider clock;
    private long open;

    /// <summary>Makes the instruments.</summary>
    public WorksMetrics(IMeterFactory meters, TimeProvider clock)
    {
        this.clock = clock;
        var meter = meters.Create(Measures.MeterName);
        events = meter.CreateCounter<long>("fleetlight.projected", "{event}", "Events that the projection has taken in");
        asides = meter.CreateCounter<long>("fleetlight.set-aside", "{piece}", "Facts and things that the projection set aside");
        meter.CreateObservableGauge("fleetlight.set-aside.open", () => Volatile.Read(ref open), "{piece}", "Facts and things that stand aside now");
        pages = meter.CreateHistogram<int>("fleetlight.projected.page", "{event}", "Events of one organisation in one page", advice: Measures.Counts);
        lag = meter.CreateHistogram<double>(
            "fleetlight.projection.lag", "s", "Age of the oldest event of a page when it was projected", advice: Measures.Seconds);
        durations = meter.CreateHistogram<double>("fleetlight.projection.page.duration", "s", "Time to work a page out", advice: Measures.Seconds);
        judgements = meter.CreateHistogram<double>(
            "fleetlight.judgement.duration", "s", "Time to judge one circuit", advice: Measures.ShortSeconds);
        alerts = meter.CreateCounter<long>(
            "fleetlight.alert.changes", "{change}", "Alerts raised, updated and cleared");
    }

    /// <summary>A page set these aside.</summary>
    public void SetAside(SetAsides aside, Telling telling)
    {
        var (facts, things) = (aside.Units.Count(each => telling.IsNew($"aside {each.Unit.Id}")), aside.Things.Keys.Count(thing => telling.IsNew($"aside {ThingKeys.Of(thing)}")));
        if (facts > 0) asides.Add(facts, KeyValuePair.Create<string, object?>("kind", "fact"));
        if (things > 0) asides.Add(things, KeyValuePair.Create<string, object?>("kind", "thing"));
    }

    /// <summary>So many stand aside now.</summary>
    public void Open(long pieces) => Volatile.Write(ref open, pieces);

    /// <summary>A page was projected; so many of its events for the first time.</summary>
    public void Projected(WorksPage page, int firstTime, TimeSpan took)
    {
        if (firstTime > 0)
        {
            events.Add(firstTime);
            pages.Record(firstTime);
        }

        durations.Record(took.TotalSeconds);
        lag.Record((clock.GetUtcNow() - page.OldestAt).TotalSeconds);
    }

    /// <summary>A circuit was judged: with explanations for a reader, without for the projection.</summary>
    public void Judged(TimeSpan took, bool explained) =>
        judgements.Record(took.TotalSeconds, new KeyValuePair<string, object?>("fleetlight.judgement.explained", explained));

    /// <summary>Something happened to an alert.</summary>
    public void AlertChanged(IAlertEvent happened) =>
        alerts.Add(1, new KeyValuePair<string, object?>("fleetlight.alert.change", ChangeOf(happened)));

    /// <summary>What happened, in a word.</summary>
    public static string ChangeOf(IAlertEvent happened) => happened switch
    {
        AlertRaised => "raised",
        AlertCleared => "cleared",
        _ => "updated",
    };
}
