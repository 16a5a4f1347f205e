using System.Buffers;
using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using FleetLight.OpenData.Cql;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Features;

/// <summary>Writes values and shapes as JSON and reads them again.</summary>
public static class FeatureJson
{
    // Texts stand as they are; what shows them in a page escapes them there.
    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The values as a JSON object, every property named, null where nothing is known.</summary>
    public static string PropertiesOf(FeatureKind kind, FeatureRow row) => Text(writer => WriteProperties(writer, kind, row));

    /// <summary>The shape as GeoJSON geometry (RFC 7946) in the order of its coordinates.</summary>
    public static string ShapeOf(Geometry shape) => Text(writer => WriteShape(writer, shape));

    /// <summary>Writes the values.</summary>
    public static void WriteProperties(Utf8JsonWriter writer, FeatureKind kind, FeatureRow row)
    {
        writer.WriteStartObject();
        for (var i = 0; i < kind.Properties.Count; i++)
        {
            writer.WritePropertyName(kind.Properties[i].Name);
            switch (row.Values[i])
            {
                case null: writer.WriteNullValue(); break;
                case string text: writer.WriteStringValue(text); break;
                case double number: writer.WriteNumberValue(number); break;
                case long whole: writer.WriteNumberValue(whole); break;
                case bool flag: writer.WriteBooleanValue(flag); break;
                case DateTimeOffset time: writer.WriteStringValue(CqlTimes.Text(time)); break;
                default: throw new InvalidOperationException($"{kind.Properties[i].Name} is a {row.Values[i]!.GetType()}.");
            }
        }

        writer.WriteEndObject();
    }

    /// <summary>Writes a shape; null where there is none.</summary>
    public static void WriteShape(Utf8JsonWriter writer, Geometry? shape)
    {
        if (shape is null)
        {
            writer.WriteNullValue();
            return;
        }

        writer.WriteStartObject();
        writer.WriteString("type", shape.GeometryType);
        writer.WritePropertyName("coordinates");
        Coordinates(writer, shape);
        writer.WriteEndObject();
    }

    /// <summary>Reads values that were written here.</summary>
    public static IReadOnlyList<object?> ReadProperties(FeatureKind kind, string json)
    {
        using var document = JsonDocument.Parse(json);
        var values = new object?[kind.Properties.Count];
        for (var i = 0; i < values.Length; i++)
        {
            var property = kind.Properties[i];
            if (!document.RootElement.TryGetProperty(property.Name, out var value) || value.ValueKind == JsonValueKind.Null) continue;
            values[i] = property.Kind switch
            {
                ValueKind.Text => value.GetString(),
                ValueKind.Number => value.GetDouble(),
                ValueKind.Whole => value.GetInt64(),
                ValueKind.Flag => value.GetBoolean(),
                _ => CqlTimes.TryInstant(value.GetString()!, out var time) ? time : null,
            };
        }

        return values;
    }

    /// <summary>Reads a shape that was written here.</summary>
    public static Geometry ReadShape(string json)
    {
        using var document = JsonDocument.Parse(json);
        var coordinates = document.RootElement.GetProperty("coordinates");
        return document.RootElement.GetProperty("type").GetString() switch
        {
            "Point" => CqlShapes.Factory.CreatePoint(At(coordinates)),
            "LineString" => Line(coordinates),
            "MultiPoint" => CqlShapes.Factory.CreateMultiPointFromCoords([.. coordinates.EnumerateArray().Select(At)]),
            "MultiLineString" => CqlShapes.Factory.CreateMultiLineString([.. coordinates.EnumerateArray().Select(Line)]),
            var other => throw new InvalidOperationException($"No {other} is kept."),
        };

        static LineString Line(JsonElement line) => CqlShapes.Factory.CreateLineString([.. line.EnumerateArray().Select(At)]);

        static Coordinate At(JsonElement at) => new(at[0].GetDouble(), at[1].GetDouble());
    }

    private static void Coordinates(Utf8JsonWriter writer, Geometry shape)
    {
        switch (shape)
        {
            case Point point:
                At(writer, point.Coordinate);
                break;
            case LineString line:
                writer.WriteStartArray();
                foreach (var at in line.Coordinates) At(writer, at);
                writer.WriteEndArray();
                break;
            case GeometryCollection several:
                writer.WriteStartArray();
                foreach (var one in several.Geometries) Coordinates(writer, one);
                writer.WriteEndArray();
                break;
            default:
                throw new InvalidOperationException($"No {shape.GeometryType} is kept.");
        }
    }

    private static void At(Utf8JsonWriter writer, Coordinate at)
    {
        writer.WriteStartArray();
        writer.WriteNumberValue(at.X);
        writer.WriteNumberValue(at.Y);
        writer.WriteEndArray();
    }

    private static string Text(Action<Utf8JsonWriter> write)
    {
        var buffer = new ArrayBufferWriter<byte>(512);
        using (var writer = new Utf8JsonWriter(buffer, Options)) write(writer);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }
}
