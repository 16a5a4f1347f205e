using System.Buffers;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Client.Devices;

/// <summary>A fact in its envelope (CloudEvents 1.0 in JSON), as a device hands it in.</summary>
/// <param name="Source">The device, the one that its key was made for.</param>
/// <param name="Id">The fact's own, unique within the source for ever; 1 to 128 characters.</param>
/// <param name="RunningNumber">The device's own count of its facts: 1, 2, 3, … without a gap.</param>
/// <param name="Time">When it happened, by the device's clock.</param>
/// <param name="Type">Name of the type of fact with its version.</param>
/// <param name="Data">What the type asks.</param>
public sealed record FactEvent(string Source, string Id, int RunningNumber, DateTimeOffset Time, string Type, JsonElement Data)
{
    /// <summary>The envelope of a fact.</summary>
    public static FactEvent Of(string source, string id, int runningNumber, DateTimeOffset time, IFact fact)
    {
        ArgumentNullException.ThrowIfNull(fact);
        var type = fact.GetType();
        return new FactEvent(source, id, runningNumber, time, FactTypes.NameOf(type), JsonSerializer.SerializeToElement(fact, type, WireJson.Strict));
    }

    /// <summary>The event as JSON in UTF-8.</summary>
    public byte[] ToJson()
    {
        var text = new ArrayBufferWriter<byte>(512);
        using (var writer = new Utf8JsonWriter(text, new JsonWriterOptions { Encoder = WireJson.Strict.Encoder }))
        {
            writer.WriteStartObject();
            writer.WriteString("specversion", "1.0");
            writer.WriteString("id", Id);
            writer.WriteString("source", Source);
            writer.WriteString("type", Type);
            writer.WriteString("time", Time);
            writer.WriteNumber(Envelope.RunningNumber, RunningNumber);
            writer.WritePropertyName("data");
            Data.WriteTo(writer);
            writer.WriteEndObject();
        }

        return text.WrittenSpan.ToArray();
    }

    /// <summary>Events that are JSON already as a batch.</summary>
    public static byte[] Batch(IEnumerable<ReadOnlyMemory<byte>> events)
    {
        ArgumentNullException.ThrowIfNull(events);
        var text = new ArrayBufferWriter<byte>(4096);
        var between = (byte)'[';
        foreach (var each in events)
        {
            text.Write([between]);
            text.Write(each.Span);
            between = (byte)',';
        }

        text.Write(between == '[' ? "[]"u8 : "]"u8);
        return text.WrittenSpan.ToArray();
    }
}
