using System.Collections.Immutable;
using System.Text.Json;
using System.Text.Json.Serialization;
using FleetLight.Contracts;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>
/// Writes the window of a circuit as short as JSON allows, an array for each reading without the names of its members: it
/// is written again with every reading, and its length is what that costs.
/// </summary>
public sealed class WindowConverter : JsonConverter<ReadingWindow>
{
    /// <inheritdoc/>
    public override void Write(Utf8JsonWriter writer, ReadingWindow value, JsonSerializerOptions options)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(value.Cut ? 1 : 0);
        foreach (var entry in value.Entries) ReadingArrays.Write(writer, entry);
        writer.WriteEndArray();
    }

    /// <inheritdoc/>
    public override ReadingWindow Read(ref Utf8JsonReader reader, Type typeToConvert, JsonSerializerOptions options)
    {
        reader.Read();
        var cut = reader.GetInt32() != 0;
        var entries = ImmutableArray.CreateBuilder<ReadingEntry>(ReadingWindow.Size);
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray) entries.Add(ReadingArrays.Read(ref reader));
        return new ReadingWindow(entries.ToImmutable(), cut);
    }
}

/// <summary>A reading as a JSON array. New members are added at its end only.</summary>
public static class ReadingArrays
{
    /// <summary>Writes a reading.</summary>
    public static void Write(Utf8JsonWriter writer, ReadingEntry entry)
    {
        writer.WriteStartArray();
        writer.WriteStringValue(entry.Source);
        writer.WriteNumberValue(entry.RunningNumber);
        writer.WriteStringValue(entry.Id);
        writer.WriteNumberValue(entry.HappenedAt.UtcTicks);
        writer.WriteNumberValue(entry.RecordedAt.UtcTicks);
        writer.WriteStringValue(entry.SiteId);
        writer.WriteStringValue(entry.CircuitId);
        writer.WriteNumberValue((int)entry.Place);
        writer.WriteStringValue(entry.PlaceId);
        writer.WriteNumberValue((int)entry.Quantity);
        writer.WriteNumberValue(entry.Value);
        if (entry.Meter is { } meter)
        {
            writer.WriteNumberValue(meter.PercentOfReading);
            writer.WriteNumberValue(meter.Digits);
            writer.WriteNumberValue(meter.Resolution);
        }

        writer.WriteEndArray();
    }

    /// <summary>Reads a reading whose array has begun.</summary>
    public static ReadingEntry Read(ref Utf8JsonReader reader)
    {
        var entry = new ReadingEntry
        {
            Source = Text(ref reader)!,
            RunningNumber = (int)Whole(ref reader),
            Id = Text(ref reader)!,
            HappenedAt = new DateTimeOffset(Whole(ref reader), TimeSpan.Zero),
            RecordedAt = new DateTimeOffset(Whole(ref reader), TimeSpan.Zero),
            SiteId = Text(ref reader)!,
            CircuitId = Text(ref reader)!,
            Place = (ReadingPlaceKind)Whole(ref reader),
            PlaceId = Text(ref reader),
            Quantity = (ReadingQuantity)Whole(ref reader),
            Value = Number(ref reader),
        };
        reader.Read();
        if (reader.TokenType != JsonTokenType.Number) return entry;
        var meter = new Contracts.Facts.MeterAccuracy
        {
            PercentOfReading = reader.GetDouble(),
            Digits = Number(ref reader),
            Resolution = Number(ref reader),
        };
        while (reader.TokenType != JsonTokenType.EndArray) reader.Read();
        return entry with { Meter = meter };
    }

    private static string? Text(ref Utf8JsonReader reader)
    {
        reader.Read();
        return reader.GetString();
    }

    private static long Whole(ref Utf8JsonReader reader)
    {
        reader.Read();
        return reader.GetInt64();
    }

    private static double Number(ref Utf8JsonReader reader)
    {
        reader.Read();
        return reader.GetDouble();
    }
}
