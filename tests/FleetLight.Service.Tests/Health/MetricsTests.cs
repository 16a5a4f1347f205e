using System.Globalization;
using System.Net;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Health;

/// <summary>Runs while no other service does: all services of a process would add to these counters.</summary>
[Collection(nameof(Alone))]
public sealed class MetricsTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task What_was_handed_in_and_projected_is_counted()
    {
        Device device = await (await service.AddOrganisationAsync()).AddDeviceAsync();
        await service.CaughtUpAsync();
        // What was administered before is projected too; the exporter remembers its answer for a moment.
        await Task.Delay(TimeSpan.FromSeconds(1.5), TestContext.Current.CancellationToken);
        Dictionary<string, double> before = await MetricsAsync();
        SentEvent good = device.Record(Some.SiteOpened());
        await device.SendAsync(good, good, good, device.Record(Some.BoxSealed()).ChangeData(data => data.Remove("lie")));
        await service.CaughtUpAsync();

        // The exporter remembers its answer for a moment.
        Dictionary<string, double> after = await Eventually.ReadAsync(
            MetricsAsync, now => Growth(now, "fleetlight_projected_total") >= 1, "the counters to grow");

        Assert.Equal(1, Growth(after, "fleetlight_facts_total", "outcome=\"recorded\""));
        Assert.Equal(2, Growth(after, "fleetlight_facts_total", "outcome=\"duplicate\""));
        Assert.Equal(1, Growth(after, "fleetlight_facts_total", "outcome=\"refused\""));
        Assert.Equal(1, Growth(after, "fleetlight_batch_count"));
        Assert.Equal(4, Growth(after, "fleetlight_batch_sum"));
        Assert.Equal(1, Growth(after, "fleetlight_projected_total"));
        Assert.Equal(1, Growth(after, "fleetlight_projection_lag_seconds_count"));

        double Growth(Dictionary<string, double> now, string name, string label = "") => Sum(now, name, label) - Sum(before, name, label);
    }

    [Fact]
    public async Task Requests_are_measured_by_their_route_and_never_by_an_id()
    {
        ApiClient office = (await service.AddOrganisationAsync()).Office;
        await office.GetAsync("/v1/circuits/an-id-of-somebody");

        Dictionary<string, double> measured = await Eventually.ReadAsync(
            MetricsAsync, now => Sum(now, "http_server_request_duration_seconds_count", "/v1/circuits/{id}") >= 1, "the request to be counted");

        Assert.DoesNotContain(measured.Keys, name => name.Contains("an-id-of-somebody", StringComparison.Ordinal));
    }

    private static double Sum(Dictionary<string, double> metrics, string name, string label) => metrics
        .Where(line => line.Key.StartsWith(name + "{", StringComparison.Ordinal) && line.Key.Contains(label, StringComparison.Ordinal))
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

/// <summary>Tests that run beside no others.</summary>
[CollectionDefinition(nameof(Alone), DisableParallelization = true)]
public sealed class Alone;
