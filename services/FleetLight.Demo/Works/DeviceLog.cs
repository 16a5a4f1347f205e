using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;

namespace FleetLight.Demo.Works;

/// <summary>A fact with the running number that its device gave it.</summary>
/// <param name="RunningNumber">The number: 1, 2, 3, …</param>
/// <param name="Entry">The fact.</param>
internal sealed record LoggedEvent(int RunningNumber, Entry Entry)
{
    /// <summary>Writes the event as CloudEvents 1.0 in JSON, with the time that the device's own clock showed.</summary>
    public void Write(Utf8JsonWriter json)
    {
        json.WriteStartObject();
        json.WriteString("specversion", "1.0");
        json.WriteString("id", Entry.Id);
        json.WriteString("source", Entry.Device.Source);
        json.WriteString("type", FactTypes.NameOf(Entry.Fact.GetType()));
        json.WriteString("time", Entry.Device.Shows(Entry.At));
        json.WriteString("datacontenttype", "application/json");
        json.WriteNumber(Envelope.RunningNumber, RunningNumber);
        json.WritePropertyName("data");
        JsonSerializer.Serialize(json, Entry.Fact, Entry.Fact.GetType(), WireJson.Strict);
        json.WriteEndObject();
    }
}

/// <summary>Everything that a device recorded, in the order in which it did.</summary>
/// <param name="Device">The device.</param>
/// <param name="Events">Its events; the running number of the first is 1, and none is missing.</param>
internal sealed record DeviceLog(Device Device, IReadOnlyList<LoggedEvent> Events)
{
    /// <summary>The log of a device.</summary>
    public static DeviceLog Of(Device device, IEnumerable<Entry> entries) => new(
        device,
        [
            .. entries.Where(entry => entry.Device == device)
                .OrderBy(entry => entry.At).ThenBy(entry => entry.Id, StringComparer.Ordinal)
                .Select((entry, index) => new LoggedEvent(index + 1, entry)),
        ]);
}
