using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Sending;
using FleetLight.Demo.Works;

namespace FleetLight.Demo.Reporting;

/// <summary>Waits until the service has caught up, and asks it.</summary>
internal sealed class Asker(Api api, KeyRing keys, Progress progress, TimeProvider clock)
{
    private const string AlertsPath = "v1/alerts?limit=1000";
    private const string CircuitsPath = "v1/circuits?limit=1000";
    private static readonly TimeSpan AtMost = TimeSpan.FromSeconds(60);
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(400);

    // So often the answers must be the same: alerts can come a moment after the states that they rest on.
    private const int LooksAlike = 3;

    // A wrong clock is corrected to within the way of the message.
    private static readonly TimeSpan Slack = TimeSpan.FromMinutes(3);

    private string Office => keys[KeyRing.Office];

    /// <summary>Asks all there is to ask.</summary>
    public async Task<Answers> AskAsync(Fleet fleet, Loader loader, CancellationToken cancel)
    {
        var caughtUp = await WaitAsync(fleet, cancel);
        var circuits = await api.ListAsync<CircuitLine>(Office, CircuitsPath, cancel);
        var planted = new Dictionary<string, CircuitView>(StringComparer.Ordinal);
        foreach (var plant in fleet.Plants.Where(plant => circuits.Any(line => line.Id == plant.CircuitId)))
            planted[plant.CircuitId] = await api.GetAsync<CircuitView>(Office, $"v1/circuits/{plant.CircuitId}", cancel);
        var receipts = new Dictionary<Device, Receipt>();
        foreach (var device in Crews.Devices) receipts[device] = await loader.ReceiptAsync(device, cancel);
        return new Answers
        {
            Circuits = circuits.ToDictionary(line => line.Id, StringComparer.Ordinal),
            Planted = planted,
            Alerts = await api.ListAsync<AlertView>(Office, AlertsPath, cancel),
            Receipts = receipts,
            Refused = await api.ListAsync<RefusedLine>(Office, "v1/refused", cancel),
            CaughtUp = caughtUp,
        };
    }

    /// <summary>Until every circuit shows its last reading, no fact waits, and nothing moves any more.</summary>
    private async Task<bool> WaitAsync(Fleet fleet, CancellationToken cancel)
    {
        var lastReadAt = fleet.LastReadAt();
        var started = clock.GetTimestamp();
        var before = "";
        var still = 0;
        while (clock.GetElapsedTime(started) < AtMost)
        {
            var behind = await api.BehindAsync(cancel);
            var circuits = await api.ListAsync<CircuitLine>(Office, CircuitsPath, cancel);
            var alerts = await api.ListAsync<AlertView>(Office, AlertsPath, cancel);
            var now = JsonSerializer.Serialize(new Looked(circuits, alerts), WireJson.Lenient);
            var shown = circuits.Count(line => lastReadAt.TryGetValue(line.Id, out var read) && line.LastReadAt >= read - Slack);
            still = now == before && shown == lastReadAt.Count && behind is null or <= 0 ? still + 1 : 0;
            if (still == LooksAlike) return true;
            before = now;
            progress.Show($"waiting for the service to catch up: {shown} of {lastReadAt.Count} circuits show their last reading, {alerts.Count} alerts");
            await Task.Delay(Between, clock, cancel);
        }

        return false;
    }

    private sealed record Looked(IReadOnlyList<CircuitLine> Circuits, IReadOnlyList<AlertView> Alerts);
}
