using System.Text.Json.Nodes;

namespace FleetLight.OpenData.Features;

/// <summary>Says in JSON Schema (2020-12) what a collection's features hold, or what may be asked of them.</summary>
public static class FeatureSchema
{
    /// <summary>The schema.</summary>
    /// <param name="kind">The collection.</param>
    /// <param name="address">Where the schema is.</param>
    /// <param name="queryables">Whether it says what filters may name; else what features hold.</param>
    public static JsonObject Of(FeatureKind kind, string address, bool queryables)
    {
        var properties = new JsonObject
        {
            [FeatureKind.ShapeName] = new JsonObject
            {
                ["title"] = "Shape",
                ["x-ogc-role"] = "primary-geometry",
                ["format"] = kind.Shape switch
                {
                    ShapeKind.Point => "geometry-point",
                    ShapeKind.Line => "geometry-linestring",
                    ShapeKind.Lines => "geometry-multilinestring",
                    _ => "geometry-multipoint",
                },
            },
        };
        foreach (var property in kind.Properties) properties[property.Name] = Of(kind, property, queryables);
        return new JsonObject
        {
            ["$schema"] = "https://json-schema.org/draft/2020-12/schema",
            ["$id"] = address,
            ["type"] = "object",
            ["title"] = kind.Title,
            ["description"] = kind.Says,
            ["properties"] = properties,
            ["additionalProperties"] = false,
        };
    }

    private static JsonObject Of(FeatureKind kind, FeatureProperty property, bool queryables)
    {
        var word = property.Kind switch
        {
            ValueKind.Number => "number",
            ValueKind.Whole => "integer",
            ValueKind.Flag => "boolean",
            _ => "string",
        };
        var schema = new JsonObject
        {
            ["title"] = property.Name,
            ["description"] = property.Says,
            // What is asked for is a value; what is given may be null.
            ["type"] = queryables ? word : new JsonArray(word, "null"),
        };
        if (property.Kind == ValueKind.Time) schema["format"] = "date-time";
        if (property.Unit is { } unit) schema["x-unit"] = unit;
        if (property.Name == kind.Time) schema["x-ogc-role"] = "primary-instant";
        if (property.Words is not { } words) return schema;
        JsonNode?[] members = [.. words.Select(each => (JsonNode)JsonValue.Create(each))];
        schema["enum"] = new JsonArray(queryables ? members : [.. members, null]);
        return schema;
    }
}
