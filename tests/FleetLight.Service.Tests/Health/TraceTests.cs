using System.Collections.Concurrent;
using System.Diagnostics;
using FleetLight.Service.Hosting;
using FleetLight.Service.Tests.Alerts.Webhooks;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Health;

/// <summary>Runs while no other service does: whoever listens to spans hears those of all services of the process.</summary>
[Collection(nameof(Alone))]
public sealed class TraceTests(DeliveringService service) : IClassFixture<DeliveringService>
{
    [Fact]
    public async Task From_the_request_of_a_fact_links_lead_to_the_page_the_alert_and_the_delivery()
    {
        using Spans spans = new();
        await using Listener listener = await Listener.SubscribeAsync(service);

        Device device = listener.Device;
        SentEvent sent = device.Record(Some.BoxSealed(gelFilled: false));
        await device.SendAsync(sent);
        await listener.Receiver.TookAsync(1);
        await Eventually.IsSoAsync(() => spans.Of("deliver alert").Length > 0, "the delivery's span to end");

        string fact = $"{device.Source}#{sent.Id}";
        Activity append = Assert.Single(spans.Of("append facts"), span => FactsOf(span).Contains(fact));
        // The daemon runs a page again where its transaction did not hold; what counts is the last.
        Activity page = spans.Of("project page").Last(span => FactsOf(span).Contains(fact));
        Activity raised = spans.Of("alert raised").Last(span => FactsOf(span).Contains(fact));
        Activity delivered = Assert.Single(spans.Of("deliver alert"));
        Assert.Equal("Microsoft.AspNetCore.Hosting.HttpRequestIn", append.Parent!.OperationName);
        Assert.Equal(append.Context.TraceId, Assert.Single(page.Links).Context.TraceId);
        Assert.Equal((default, page.SpanId), (page.ParentSpanId, raised.ParentSpanId));
        Assert.NotEqual(append.TraceId, page.TraceId);
        ActivityContext queued = Assert.Single(delivered.Links).Context;
        Activity second = Assert.Single(spans.Of("project page"), span => span.TraceId == queued.TraceId);
        Assert.Equal(page.TraceId, Assert.Single(second.Links).Context.TraceId);
        Assert.Equal("delivered", delivered.GetTagItem(Measures.Outcome));
        Assert.Contains(fact, FactsOf(delivered));
    }

    [Fact]
    public async Task Where_nobody_listens_nothing_of_a_trace_is_kept()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        SentEvent sent = device.Record(Some.SiteOpened("untraced"));

        await device.SendAsync(sent);

        string kept = Assert.Single(await service.QueryAsync<string>("select data::text from fleetlight.mt_events where data::text like '%untraced%'"));
        Assert.DoesNotContain("trace\"", kept, StringComparison.Ordinal);
    }

    private static string[] FactsOf(Activity span) => span.GetTagItem(Tracing.FactIds) as string[] ?? [];

    /// <summary>Keeps the spans that end while it lives.</summary>
    private sealed class Spans : IDisposable
    {
        private readonly ConcurrentQueue<Activity> all = new();
        private readonly ActivityListener listener;

        public Spans()
        {
            listener = new ActivityListener
            {
                ShouldListenTo = source => source.Name is Tracing.SourceName or "Microsoft.AspNetCore",
                Sample = (ref _) => ActivitySamplingResult.AllDataAndRecorded,
                ActivityStopped = all.Enqueue,
            };
            ActivitySource.AddActivityListener(listener);
        }

        public Activity[] Of(string name) => [.. all.Where(span => span.DisplayName == name)];

        public void Dispose() => listener.Dispose();
    }
}
