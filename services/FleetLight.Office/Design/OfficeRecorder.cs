using System.Text.Json;
using FleetLight.Client.Devices;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Office.Dossiers;
using FleetLight.Office.Shell.Keys;

namespace FleetLight.Office.Design;

/// <summary>Records designs under the source of the office's key, each once however often it is tried.</summary>
public sealed class OfficeRecorder(OfficeSession session, TimeProvider clock)
{
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(15);

    private FactEvent? underWay;

    /// <summary>Records a design. Says why it was not taken, in plain words; nothing where it was.</summary>
    /// <exception cref="FleetLight.Client.FleetLightException">Nothing is known of what became of it: the same again is harmless.</exception>
    public async Task<string?> RecordAsync(CircuitDesigned design, CancellationToken cancel)
    {
        if (session.Holder?.Source is not { } source) return "This key records nothing: ask for one of the role office.";
        var fact = await FactAsync(source, design, cancel);
        var receipt = await session.Client.Device.HandInAsync([fact], cancel);
        underWay = null;
        var outcome = receipt.Outcomes[0];
        return outcome.Outcome == FactOutcome.Refused ? $"{outcome.Problem?.Detail ?? outcome.Problem?.Title} {outcome.Problem?.Remedy}" : null;
    }

    /// <summary>The state of the circuit once it goes by the design; none where that takes too long.</summary>
    public async Task<CircuitView?> SeenAsync(CircuitDesigned design, CancellationToken cancel)
    {
        var began = clock.GetTimestamp();
        var wanted = JsonSerializer.Serialize(design, WireJson.Strict);
        while (clock.GetElapsedTime(began) < Longest)
        {
            var known = await session.Client.FindAsync<CircuitDesigned>($"v1/circuits/{Uri.EscapeDataString(design.CircuitId)}/design", cancel);
            if (known is not null && JsonSerializer.Serialize(known, WireJson.Strict) == wanted)
                return await session.Client.Status.CircuitAsync(design.CircuitId, cancel);
            await Task.Delay(Between, clock, cancel);
        }

        return null;
    }

    // The same fact is sent again where nothing is known of the first try, so that it is recorded once.
    private async Task<FactEvent> FactAsync(string source, CircuitDesigned design, CancellationToken cancel)
    {
        var data = JsonSerializer.SerializeToElement(design, WireJson.Strict);
        if (underWay is { } same && same.Source == source && JsonElement.DeepEquals(same.Data, data)) return same;
        var receipt = await session.Client.Device.ReceiptAsync(cancel);
        return underWay = FactEvent.Of(source, Guid.NewGuid().ToString(), receipt.Highest + 1, clock.GetUtcNow(), design);
    }
}
