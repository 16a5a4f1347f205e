using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Circuits;

namespace FleetLight.Service.Circuits;

/// <summary>Texts that several readings share, written once and named by their place: sources, sites, circuits.</summary>
public sealed class SharedTexts
{
    private readonly List<string> texts = [];

    /// <summary>Takes in the texts of a reading.</summary>
    public void Take(ReadingEntry entry)
    {
        PlaceOf(entry.Source);
        PlaceOf(entry.SiteId);
        PlaceOf(entry.CircuitId);
    }

    /// <summary>The place of a text.</summary>
    public int PlaceOf(string text)
    {
        var at = texts.IndexOf(text);
        if (at >= 0) return at;
        texts.Add(text);
        return texts.Count - 1;
    }

    /// <summary>The text at a place.</summary>
    public string At(int place) => texts[place];

    /// <summary>Writes the texts.</summary>
    public void Write(Utf8JsonWriter writer)
    {
        writer.WriteStartArray();
        foreach (var text in texts) writer.WriteStringValue(text);
        writer.WriteEndArray();
    }

    /// <summary>Reads the texts; the reader stands at the start of their array and is left at its end.</summary>
    public static SharedTexts Read(ref Utf8JsonReader reader)
    {
        var shared = new SharedTexts();
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray) shared.texts.Add(reader.GetString()!);
        return shared;
    }
}

/// <summary>A reading as a JSON array. New members are added at its end only.</summary>
public static class ReadingArrays
{
    /// <summary>A reading by itself as text.</summary>
    public static string ToText(ReadingEntry entry)
    {
        var buffer = new ArrayBufferWriter<byte>(256);
        using (var writer = new Utf8JsonWriter(buffer))
        {
            var texts = new SharedTexts();
            texts.Take(entry);
            writer.WriteStartArray();
            texts.Write(writer);
            Write(writer, entry, texts);
            writer.WriteEndArray();
        }

        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    /// <summary>A reading that was written by itself.</summary>
    public static ReadingEntry FromText(string text)
    {
        var reader = new Utf8JsonReader(Encoding.UTF8.GetBytes(text));
        reader.Read();
        reader.Read();
        var texts = SharedTexts.Read(ref reader);
        reader.Read();
        return Read(ref reader, texts);
    }

    /// <summary>Writes readings, what they share before them, into an array that has begun.</summary>
    public static void Write(Utf8JsonWriter writer, ImmutableArray<ReadingEntry> entries)
    {
        var texts = new SharedTexts();
        foreach (var entry in entries) texts.Take(entry);
        texts.Write(writer);
        foreach (var entry in entries) Write(writer, entry, texts);
    }

    /// <summary>Reads the rest of an array that holds readings after what they share; the reader is left at its end.</summary>
    public static ImmutableArray<ReadingEntry> ReadAll(ref Utf8JsonReader reader)
    {
        reader.Read();
        var texts = SharedTexts.Read(ref reader);
        var entries = ImmutableArray.CreateBuilder<ReadingEntry>(ReadingWindow.Size);
        while (reader.Read() && reader.TokenType != JsonTokenType.EndArray) entries.Add(Read(ref reader, texts));
        return entries.ToImmutable();
    }

    /// <summary>Writes a reading.</summary>
    public static void Write(Utf8JsonWriter writer, ReadingEntry entry, SharedTexts texts)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(texts.PlaceOf(entry.Source));
        writer.WriteNumberValue(texts.PlaceOf(entry.SiteId));
        writer.WriteNumberValue(texts.PlaceOf(entry.CircuitId));
        writer.WriteNumberValue(entry.RunningNumber);
        writer.WriteStringValue(entry.Id);
        writer.WriteNumberValue(entry.HappenedAt.UtcTicks);
        writer.WriteNumberValue(entry.RecordedAt.UtcTicks - entry.HappenedAt.UtcTicks);
        writer.WriteNumberValue((int)entry.Place);
        if (entry.PlaceId is null) writer.WriteNumberValue(0);
        else writer.WriteStringValue(entry.PlaceId);
        writer.WriteNumberValue((int)entry.Quantity);
        writer.WriteNumberValue(entry.Value);
        if (entry.Meter is { } meter)
        {
            writer.WriteNumberValue(meter.PercentOfReading);
            writer.WriteNumberValue(meter.Digits);
            writer.WriteNumberValue(meter.Resolution);
        }

        if (entry.MeterName is { } name) writer.WriteStringValue(name);
        writer.WriteEndArray();
    }

    /// <summary>Reads a reading whose array has begun.</summary>
    public static ReadingEntry Read(ref Utf8JsonReader reader, SharedTexts texts)
    {
        var source = texts.At((int)Whole(ref reader));
        var site = texts.At((int)Whole(ref reader));
        var circuit = texts.At((int)Whole(ref reader));
        var number = (int)Whole(ref reader);
        var id = Text(ref reader)!;
        var happened = Whole(ref reader);
        var entry = new ReadingEntry
        {
            Source = source,
            SiteId = site,
            CircuitId = circuit,
            RunningNumber = number,
            Id = id,
            HappenedAt = new DateTimeOffset(happened, TimeSpan.Zero),
            RecordedAt = new DateTimeOffset(happened + Whole(ref reader), TimeSpan.Zero),
            Place = (ReadingPlaceKind)Whole(ref reader),
            PlaceId = Text(ref reader),
            Quantity = (ReadingQuantity)Whole(ref reader),
            Value = Number(ref reader),
        };
        reader.Read();
        if (reader.TokenType == JsonTokenType.EndArray) return entry;
        MeterAccuracy? meter = null;
        if (reader.TokenType == JsonTokenType.Number)
        {
            meter = new MeterAccuracy
            {
                PercentOfReading = reader.GetDouble(),
                Digits = Number(ref reader),
                Resolution = Number(ref reader),
            };
            reader.Read();
        }

        var name = reader.TokenType == JsonTokenType.String ? reader.GetString() : null;
        while (reader.TokenType != JsonTokenType.EndArray) reader.Read();
        return entry with { Meter = meter, MeterName = name };
    }

    private static string? Text(ref Utf8JsonReader reader)
    {
        reader.Read();
        return reader.TokenType == JsonTokenType.String ? reader.GetString() : null;
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
