using System.Diagnostics;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Service.Sync;
using FleetLight.Service.Works;

namespace FleetLight.Service.Circuits;

/// <summary>The status of circuits with what explains their readings, remembered while it holds.</summary>
public sealed class CircuitStatus(CurrentCircuits circuits, ChangeFeed feed, StatusCache cache, WorksMetrics metrics)
{
    /// <summary>The status as it is answered; none where there is no such circuit.</summary>
    /// <param name="organisation">The organisation.</param>
    /// <param name="id">The circuit.</param>
    /// <param name="seenThrough">Position in the change feed that the caller has seen: nothing older is answered.</param>
    public Task<Rendered?> RenderedAsync(string organisation, string id, long seenThrough) =>
        cache.GetAsync(organisation, id, seenThrough, () => RenderAsync(organisation, id));

    /// <summary>The status; none where there is no such circuit.</summary>
    public async Task<CircuitView?> FindAsync(string organisation, string id, CancellationToken cancel) =>
        await RenderedAsync(organisation, id, 0).WaitAsync(cancel) is { } rendered
            ? JsonSerializer.Deserialize<CircuitView>(rendered.Body, WireJson.Lenient)
            : null;

    // Loads for everybody who waits for the same state, so one caller's going away does not end it.
    private async Task<Rendered?> RenderAsync(string organisation, string id)
    {
        if (await circuits.FindAsync(organisation, id, CancellationToken.None) is not { } found) return null;
        // Asked after the state: whatever the state holds lies at or before it.
        var newest = await feed.NewestAsync(CancellationToken.None);
        var began = Stopwatch.GetTimestamp();
        var view = CircuitJudge.Judge(found.Basis, found.Row.Recent.Window, found.Row.Judged, history: found.Row.Recent.History);
        metrics.Judged(Stopwatch.GetElapsedTime(began), explained: true);
        return Rendered.Of(view) with { SeenThrough = newest };
    }
}
