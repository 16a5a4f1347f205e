using System.Diagnostics;
using FleetLight.Record.Alerts;
using FleetLight.Record.Files;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using JasperFx.Events;
using Microsoft.Extensions.Caching.Memory;

namespace FleetLight.Service.Works;

/// <summary>Tells of the projection's work: in measures, in spans and in the log.</summary>
public sealed class WorksWatch(WorksMetrics metrics, ILogger<WorksProjection> log) : IDisposable
{
    // An alert's event is projected by a later page than the one that decided it. Where that is the same node's, as it nearly
    // always is, the later page is linked to the earlier; where it is not, the alert's id still joins them in the log.
    private readonly MemoryCache decidedIn = new(new MemoryCacheOptions { SizeLimit = 10_000 });

    /// <summary>The measures.</summary>
    public WorksMetrics Metrics => metrics;

    /// <summary>Starts the span of a page, linked to the requests that handed its facts in.</summary>
    public Activity? Start(string organisation, IReadOnlyList<IEvent> events)
    {
        var span = Tracing.StartLinked("project page", ActivityKind.Consumer, events.Select(MarkOf));
        return span.OfFacts(FactsOf(events))
            ?.SetTag("fleetlight.organisation", organisation).SetTag("fleetlight.events", events.Count)
            .SetTag("fleetlight.sequence.first", events[0].Sequence).SetTag("fleetlight.sequence.last", events[^1].Sequence);
    }

    /// <summary>A page was worked out; so many of its events for the first time.</summary>
    public void Projected(string organisation, WorksPage page, IReadOnlyList<IEvent> events, int firstTime, TimeSpan took)
    {
        metrics.Projected(page, firstTime, took);
        if (!log.IsEnabled(LogLevel.Information)) return;
        string[] facts = [.. FactsOf(events)];
        if (facts.Length == 0) return;
        ServiceLog.OfFacts(log, facts, () => log.LogInformation(
            "Projected {Events} events of {Organisation} through {Sequence} in {Elapsed:0.0} ms",
            events.Count, organisation, events[^1].Sequence, took.TotalMilliseconds));
    }

    /// <summary>The page decides that something happens to an alert, because of these facts where they are known.</summary>
    public void Decided(string organisation, IAlertEvent happened, IReadOnlyList<string> knownBy)
    {
        var change = WorksMetrics.ChangeOf(happened);
        metrics.AlertChanged(happened);
        var finding = FindingOf(happened);
        string[] facts = [.. knownBy.Union(finding?.Evidence ?? [], StringComparer.Ordinal)];
        using (var span = Tracing.Source.StartActivity("alert " + change))
        {
            span.OfFacts(facts)?.SetTag("fleetlight.alert.id", happened.AlertId).SetTag("fleetlight.alert.rule", finding?.Rule);
            if (Tracing.Mark is { } mark) decidedIn.Set(happened.AlertId, mark, new MemoryCacheEntryOptions { Size = 1 });
        }

        ServiceLog.OfFacts(log, facts, () => log.LogInformation(
            "Alert {AlertId} of {Organisation} is {Change}: {Rule}", happened.AlertId, organisation, change, finding?.Rule));
    }

    /// <inheritdoc/>
    public void Dispose() => decidedIn.Dispose();

    private string? MarkOf(IEvent happened) => happened.Data switch
    {
        IKept kept => kept.Trace,
        IAlertEvent alert => decidedIn.Get<string>(alert.AlertId),
        _ => null,
    };

    private static Contracts.Views.Finding? FindingOf(IAlertEvent happened) => happened switch
    {
        AlertRaised raised => raised.Finding,
        AlertUpdated updated => updated.Finding,
        _ => null,
    };

    private static IEnumerable<string> FactsOf(IReadOnlyList<IEvent> events) =>
        events.Select(each => each.Data).OfType<IKept>().Select(kept => FactKey.Of(kept.Of));
}
