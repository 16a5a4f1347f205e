using System.Globalization;
using System.Net;
using FleetLight.Service.Health;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Marten.Events.Daemon.Coordination;
using Microsoft.Extensions.DependencyInjection;
using Xunit;

namespace FleetLight.Service.Tests.Health;

/// <remarks>These tests stop the projection, so each has a service of its own.</remarks>
public sealed class HealthTests : IAsyncLifetime
{
    private readonly FleetService service = new();

    private IProjectionCoordinator Projection => service.Running.Services.GetRequiredService<IProjectionCoordinator>();

    public ValueTask InitializeAsync() => service.InitializeAsync();

    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public async Task A_new_service_is_alive_and_ready_with_nothing_missing()
    {
        HealthView live = await service.Anybody.ReadAsync<HealthView>("/health/live");
        HealthView ready = await service.Anybody.ReadAsync<HealthView>("/health/ready");

        Assert.Equal("ready", live.Status);
        Assert.Equal(("ready", 0L), (ready.Status, ready.ProjectionBehind));
        Assert.Empty(ready.Missing);
    }

    [Fact]
    public async Task It_says_how_far_the_projection_is_behind()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        await Projection.PauseAsync();

        await device.TellAsync(Some.SiteOpened(), Some.DuctLaid(), Some.BoxSealed());

        HealthView ready = await service.Anybody.ReadAsync<HealthView>("/health/ready");
        Assert.Equal(("ready", 3L), (ready.Status, ready.ProjectionBehind));
        await Projection.ResumeAsync();
        await service.CaughtUpAsync();
    }

    [Fact]
    public async Task A_projection_that_is_far_behind_makes_it_not_ready()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        await device.TellAsync(Some.SiteOpened());
        await service.CaughtUpAsync();
        await Projection.PauseAsync();
        await service.QueryAsync<string>("update fleetlight.mt_event_progression set last_seq_id = last_seq_id - 200001 where name = 'works:All' returning name");

        Answer answer = await service.Anybody.GetAsync("/health/ready");

        Assert.Equal(HttpStatusCode.ServiceUnavailable, answer.Status);
        Assert.Equal(["The projection is far behind."], answer.As<HealthView>().Missing);
    }

    [Fact]
    public async Task An_event_that_the_projection_cannot_read_is_passed_over_and_told()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await Projection.PauseAsync();
        await device.TellAsync(Some.BoxSealed("spoilt"), Some.BoxSealed("sound"));
        await service.QueryAsync<string>(
            """update fleetlight.mt_events set data = jsonb_set(data, '{data,lie}', '"sideways"') where data -> 'data' ->> 'boxId' = 'spoilt' returning type""");

        await Projection.ResumeAsync();
        await Eventually.IsSoAsync(async () => (await organisation.Office.GetAsync("/v1/boxes/sound")).Status == HttpStatusCode.OK, "the sound one to show");

        HealthView ready = await Eventually.ReadAsync(
            () => service.Anybody.ReadAsync<HealthView>("/health/ready"), health => health.Missing.Count > 0, "the check to tell of it");
        Assert.Equal(("ready", "1 event could not be read and is missing in the states: see mt_doc_deadletterevent."), (ready.Status, Assert.Single(ready.Missing)));
    }

    [Fact]
    public async Task The_metrics_count_what_was_handed_in_and_projected()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        Dictionary<string, double> before = await MetricsAsync();
        SentEvent good = device.Record(Some.SiteOpened());
        await device.SendAsync(good, good, device.Record(Some.BoxSealed()).ChangeData(data => data.Remove("lie")));
        await service.CaughtUpAsync();

        // The exporter remembers its answer for a moment. Other services of this process add to the same counters, so they
        // grow by at least this.
        Dictionary<string, double> after = await Eventually.ReadAsync(
            MetricsAsync,
            now => Growth(now, "fleetlight_facts_total", "recorded") >= 1 && Growth(now, "fleetlight_facts_total", "duplicate") >= 1
                && Growth(now, "fleetlight_facts_total", "refused") >= 1 && Growth(now, "fleetlight_batch_count") >= 1
                && Growth(now, "fleetlight_projected_total") >= 1,
            "the counters to grow");

        Assert.Contains(after.Keys, name => name.StartsWith("fleetlight_projection_lag_seconds", StringComparison.Ordinal));
        Assert.Contains(after.Keys, name => name.StartsWith("http_server_request_duration_seconds", StringComparison.Ordinal));

        double Growth(Dictionary<string, double> now, string name, string label = "") => Sum(now, name, label) - Sum(before, name, label);
    }

    private static double Sum(Dictionary<string, double> metrics, string name, string label) => metrics
        .Where(line => line.Key.StartsWith(name, StringComparison.Ordinal) && line.Key.Contains(label, StringComparison.Ordinal))
        .Sum(line => line.Value);

    // The lines of Prometheus' text format, without its comments.
    private async Task<Dictionary<string, double>> MetricsAsync()
    {
        string text = (await service.Anybody.GetAsync("/metrics")).Expect(HttpStatusCode.OK).Text;
        Dictionary<string, double> lines = [];
        foreach (string line in text.Split('\n').Where(line => line.Length > 0 && line[0] != '#'))
        {
            // The last brace: the path in a label may hold braces too.
            int name = line.LastIndexOf('}') is var end and >= 0 ? end + 1 : line.IndexOf(' ', StringComparison.Ordinal);
            lines[line[..name]] = double.Parse(line[name..].Split(' ', StringSplitOptions.RemoveEmptyEntries)[0], CultureInfo.InvariantCulture);
        }

        return lines;
    }
}
