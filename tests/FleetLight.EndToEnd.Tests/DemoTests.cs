using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Works;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.EndToEnd.Tests;

/// <summary>
/// The whole way: a contractor's fleet handed in by its devices, late, doubled and out of order, to the service as a user
/// starts it, and what the service then says. The truth is known, because the fleet is invented.
/// </summary>
public sealed class DemoTests(DemoTests.LoadedDemo demo) : IClassFixture<DemoTests.LoadedDemo>
{
    [Fact]
    public void The_loader_ends_well_and_says_what_was_found()
    {
        Assert.Equal(0, demo.ExitCode);
        Assert.Contains("10 of 10 planted things found.", demo.Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_fact_of_every_device_is_in_hand_once()
    {
        Assert.NotEmpty(demo.Fleet.Logs);
        foreach (var log in demo.Fleet.Logs)
        {
            var receipt = await demo.GetAsync<Receipt>("v1/devices/self/receipts", demo.KeyOf(log.Device.Source));
            Assert.Equal(log.Events.Count, receipt.CompleteThrough);
            Assert.Empty(receipt.Missing);
        }
    }

    [Fact]
    public async Task Every_circuit_and_site_has_a_state()
    {
        Assert.Equal(demo.Fleet.Sites.Count, (await demo.AllAsync<SiteView>("v1/sites")).Count);
        var circuits = await demo.AllAsync<CircuitLine>("v1/circuits");
        Assert.Equal(demo.Fleet.Circuits.Select(circuit => circuit.Id).Order(StringComparer.Ordinal), circuits.Select(line => line.Id).Order(StringComparer.Ordinal));
        Assert.All(circuits, line => Assert.NotNull(line.ExpectedVolts));
    }

    [Fact]
    public async Task Readings_are_outside_where_something_was_planted_and_nowhere_else()
    {
        var planted = demo.Fleet.Plants.Where(plant => plant.Verdict == CircuitVerdict.Outside).Select(plant => plant.CircuitId).Order(StringComparer.Ordinal);
        var outside = await demo.AllAsync<CircuitLine>("v1/circuits?verdict=outside");
        Assert.Equal(planted, outside.Select(line => line.Id).Order(StringComparer.Ordinal));
    }

    [Fact]
    public async Task Each_planted_thing_raises_its_alert_once()
    {
        var alerts = await demo.AllAsync<AlertView>("v1/alerts");
        foreach (var plant in demo.Fleet.Plants)
        {
            var raised = alerts.Where(alert => alert.Finding.Subject == plant.Subject && plant.Rules.Contains(alert.Finding.Rule)).ToList();
            Assert.NotEmpty(raised);
            Assert.Equal(raised.Count, raised.Select(alert => alert.Id).Distinct().Count());
        }
    }

    [Fact]
    public async Task Readings_drift_where_a_joint_goes_bad_and_nowhere_else()
    {
        var plant = demo.Fleet.Plants.Single(each => each.Fault == "high-resistance-joint");
        var drifting = (await demo.AllAsync<AlertView>("v1/alerts")).Where(alert => alert.Finding.Rule == "reading-drifts").ToList();
        Assert.Equal(plant.Subject, Assert.Single(drifting).Finding.Subject);
        var circuit = await demo.GetAsync<CircuitView>($"v1/circuits/{plant.CircuitId}", demo.OfficeKey);
        Assert.Contains(circuit.Drift!, drift => drift is { Trend: ReadingTrend.SlowChange, AsksForVisit: true });
    }

    [Fact]
    public async Task The_wrong_wattage_leads_the_explanations_with_the_fitting_among_those_named()
    {
        var plant = demo.Fleet.Plants.Single(each => each.Fault == "fitting-of-other-wattage");
        var circuit = await demo.GetAsync<CircuitView>($"v1/circuits/{plant.CircuitId}", demo.OfficeKey);
        Assert.Equal("fitting-of-other-wattage", circuit.Explanations[0].Fault);
        var fitting = demo.Fleet.Circuits.Single(each => each.Id == plant.CircuitId).ChosenFitting.FittingId;
        Assert.Contains(fitting, circuit.Explanations[0].At);
    }

    [Fact]
    public async Task Loading_again_changes_nothing()
    {
        var before = await demo.AllAsync<AlertView>("v1/alerts?standing=any");
        var (exitCode, _) = await demo.Service.LoadDemoAsync(TestContext.Current.CancellationToken);
        Assert.Equal(0, exitCode);
        var after = await demo.AllAsync<AlertView>("v1/alerts?standing=any");
        Assert.Equal(JsonSerializer.Serialize(before, WireJson.Lenient), JsonSerializer.Serialize(after, WireJson.Lenient));
    }

    /// <summary>The service with the demo in it, loaded once for all tests, with the power cut in the middle of the loading.</summary>
    public sealed class LoadedDemo : IAsyncLifetime
    {
        private readonly HttpClient http = new();
        private JsonElement keys;

        /// <summary>The running service.</summary>
        public StartedService Service { get; private set; } = null!;

        /// <summary>How the loader ended at last.</summary>
        public int ExitCode { get; private set; }

        /// <summary>What the loader printed at last.</summary>
        public string Output { get; private set; } = "";

        /// <summary>What was invented.</summary>
        internal Fleet Fleet { get; private set; } = null!;

        /// <summary>The office's key.</summary>
        public string OfficeKey => keys.EnumerateArray().Single(key => key.GetProperty("name").GetString() == "office").GetProperty("key").GetString()!;

        /// <inheritdoc/>
        public async ValueTask InitializeAsync()
        {
            Service = await StartedService.StartAsync(CancellationToken.None);
            // The first loading is interrupted by a power cut; the second takes up what is missing.
            var first = Service.LoadDemoAsync(CancellationToken.None);
            await SomethingRecordedAsync(first);
            await Service.CutPowerAsync(CancellationToken.None);
            await first;
            (ExitCode, Output) = await Service.LoadDemoAsync(CancellationToken.None);
            keys = (await ReadAsync("demo-keys.json")).GetProperty("keys");
            var record = await ReadAsync("demo-seed.json");
            var anchor = record.GetProperty("anchor").GetDateTime();
            Fleet = Fleet.Of(record.GetProperty("seed").GetInt64(), new DateTimeOffset(DateTime.SpecifyKind(anchor, DateTimeKind.Utc)));
        }

        /// <inheritdoc/>
        public async ValueTask DisposeAsync()
        {
            http.Dispose();
            await Service.DisposeAsync();
        }

        /// <summary>The key of a device.</summary>
        public string KeyOf(string source) => keys.EnumerateArray()
            .Single(key => key.TryGetProperty("source", out var of) && of.GetString() == source).GetProperty("key").GetString()!;

        /// <summary>Reads an answer.</summary>
        public async Task<T> GetAsync<T>(string path, string key)
        {
            using var request = new HttpRequestMessage(HttpMethod.Get, new Uri(Service.Url, path));
            request.Headers.Authorization = new AuthenticationHeaderValue("Bearer", key);
            using var answer = await http.SendAsync(request);
            answer.EnsureSuccessStatusCode();
            return (await answer.Content.ReadFromJsonAsync<T>(WireJson.Lenient))!;
        }

        /// <summary>Reads every page of a list.</summary>
        public async Task<List<T>> AllAsync<T>(string path)
        {
            var all = new List<T>();
            string? cursor = null;
            do
            {
                var more = cursor is null ? "" : $"{(path.Contains('?', StringComparison.Ordinal) ? '&' : '?')}cursor={Uri.EscapeDataString(cursor)}";
                var page = await GetAsync<Page<T>>(path + more, OfficeKey);
                all.AddRange(page.Items);
                cursor = page.Next;
            }
            while (cursor is not null);
            return all;
        }

        private async Task SomethingRecordedAsync(Task loading)
        {
            while (!loading.IsCompleted)
            {
                var text = await http.GetStringAsync(new Uri(Service.Url, "metrics"));
                var line = text.Split('\n').FirstOrDefault(each =>
                    each.StartsWith("fleetlight_facts_total", StringComparison.Ordinal) && each.Contains("recorded", StringComparison.Ordinal));
                if (line is not null && double.Parse(line.Split(' ')[1], System.Globalization.CultureInfo.InvariantCulture) > 1000) return;
                await Task.Delay(20);
            }
        }

        private async Task<JsonElement> ReadAsync(string file)
        {
            await using var stream = File.OpenRead(Path.Combine(Service.DataFolder, file));
            return (await JsonDocument.ParseAsync(stream)).RootElement.Clone();
        }
    }
}
