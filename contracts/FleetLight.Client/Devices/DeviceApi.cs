using FleetLight.Client.Sending;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Devices;

/// <summary>What a device does: hands its facts in until every running number has a receipt.</summary>
public sealed class DeviceApi
{
    private readonly Transport transport;

    internal DeviceApi(Transport transport) => this.transport = transport;

    /// <summary>Hands facts in: at most 1,000 and 2 MiB at once. Handing in twice is harmless.</summary>
    /// <exception cref="FleetLightException">Nothing is known of what became of the facts: hand them in again.</exception>
    public Task<BatchReceipt> HandInAsync(IEnumerable<FactEvent> facts, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(facts);
        return HandInAsync(FactEvent.Batch(facts.Select(fact => (ReadOnlyMemory<byte>)fact.ToJson())), cancel);
    }

    /// <summary>Hands in a batch that is a JSON array of events already.</summary>
    /// <exception cref="FleetLightException">Nothing is known of what became of the facts: hand them in again.</exception>
    public Task<BatchReceipt> HandInAsync(ReadOnlyMemory<byte> batch, CancellationToken cancel = default) => transport.ReadAsync<BatchReceipt>(
        new Call(HttpMethod.Post, "v1/events") { Body = batch, MediaType = Envelope.BatchMediaType, ShowsClock = true }, cancel);

    /// <summary>Through which running number the device is complete, and which are missing.</summary>
    /// <exception cref="FleetLightException">No receipt came.</exception>
    public Task<Receipt> ReceiptAsync(CancellationToken cancel = default) =>
        transport.ReadAsync<Receipt>(Call.Get("v1/devices/self/receipts"), cancel);
}
