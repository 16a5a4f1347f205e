using System.Text.Json;
using System.Text.Json.Serialization;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>
/// Writes the window of a circuit as short as JSON allows: an array for each reading without the names of its members, and
/// what the readings share once before them. The window is written again with every reading, and its length is what that
/// costs.
/// </summary>
public sealed class WindowConverter : JsonConverter<ReadingWindow>
{
    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, ReadingWindow value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(value.Cut ? 1 : 0);
        ReadingArrays.Write(writer, value.Entries);
        writer.WriteEndArray();
    }

    /// <inheritdoc/>
    public override ReadingWindow Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        reader.Read();
        var cut = reader.GetInt32() != 0;
        return new ReadingWindow(ReadingArrays.ReadAll(ref reader), cut);
    }
}

/// <summary>Writes the history of a circuit's readings as short as its window.</summary>
public sealed class HistoryConverter : JsonConverter<ReadingHistory>
{
    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, ReadingHistory value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        ReadingArrays.Write(writer, value.Entries);
        writer.WriteEndArray();
    }

    /// <inheritdoc/>
    public override ReadingHistory Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options) =>
        new(ReadingArrays.ReadAll(ref reader));
}
