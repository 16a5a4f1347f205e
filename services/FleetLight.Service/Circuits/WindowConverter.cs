using System.Collections.Immutable;
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
        var texts = new SharedTexts();
        foreach (var entry in value.Entries) texts.Take(entry);
        writer.WriteStartArray();
        writer.WriteNumberValue(value.Cut ? 1 : 0);
        texts.Write(writer);
        foreach (var entry in value.Entries) ReadingArrays.Write(writer, entry, texts);
        writer.WriteEndArray();
    }

    /// <inheritdoc/>
    public override ReadingWindow Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        reader.Read();
        var cut = reader.GetInt32() != 0;
        reader.Read();
        var texts = SharedTexts.Read(ref reader);
        var entries = ImmutableArray.CreateBuilder<ReadingEntry>(ReadingWindow.Size);
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray) entries.Add(ReadingArrays.Read(ref reader, texts));
        return new ReadingWindow(entries.ToImmutable(), cut);
    }
}
