using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using System.Text.Json.Schema;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Contracts.Tests.Schemas;

/// <summary>Writes the JSON Schema of a fact's data out of its record: kinds, ranges, units, lengths and doc comments.</summary>
internal static class SchemaWriter
{
    /// <summary>The dialect of every schema.</summary>
    public const string Dialect = "https://json-schema.org/draft/2020-12/schema";

    private const string PrefixOfIds = "urn:fleetlight:schema:";

    // What FleetLight's own checks ask of every text beyond its length: at least one character that is no space.
    private const string NotBlank = @"\S";

    private static readonly DocComments Comments = DocComments.Of(typeof(IFact).Assembly);

    private static readonly JsonSchemaExporterOptions Exporting = new()
    {
        TreatNullObliviousAsNonNullable = true,
        TransformSchemaNode = Transform,
    };

    /// <summary>Identifier of the schema with that name.</summary>
    public static string IdOf(string name) => PrefixOfIds + name;

    /// <summary>The schema of a type of fact.</summary>
    public static JsonObject Write(string name, Type type)
    {
        var made = (JsonObject)WireJson.Strict.GetJsonSchemaAsNode(type, Exporting);
        var schema = new JsonObject { ["$schema"] = Dialect, ["$id"] = IdOf(name), ["title"] = name, ["description"] = Comments.Of(type) };
        return Append(schema, made);
    }

    private static JsonObject Transform(JsonSchemaExporterContext context, JsonNode made)
    {
        var property = context.PropertyInfo?.AttributeProvider as PropertyInfo;
        var schema = new JsonObject();
        if (property is not null && Comments.Of(property) is { } comment) schema["description"] = comment;
        var type = Nullable.GetUnderlyingType(context.TypeInfo.Type) ?? context.TypeInfo.Type;
        if (made is JsonObject described) Append(schema, described);
        // Words are read by a converter of our own, of which the exporter knows nothing.
        if (type.IsEnum) AddWords(schema, type, context.TypeInfo.Type != type);
        // A member that may hold anything is exported as 'true'.
        else if (made is not JsonObject) return schema;
        if (property is null) return schema;
        AddMarks(schema, property);
        AddGeometry(schema, property);
        return schema;
    }

    private static void AddMarks(JsonObject schema, PropertyInfo property)
    {
        if (property.GetCustomAttribute<QuantityAttribute>() is { } quantity)
        {
            schema["minimum"] = Number(quantity.Least);
            schema["maximum"] = Number(quantity.Most);
            schema["x-unit"] = quantity.Unit;
        }

        if (property.GetCustomAttribute<TextAttribute>() is { } text)
        {
            schema["maxLength"] = text.Most;
            schema["pattern"] = property.GetCustomAttribute<FormAttribute>()?.Pattern ?? NotBlank;
        }

        if (property.GetCustomAttribute<ListAttribute>() is { } list)
        {
            schema["minItems"] = list.Least;
            schema["maxItems"] = list.Most;
        }

        if (property.GetCustomAttribute<ThingIdAttribute>() is not null)
            (property.PropertyType.IsArray ? (JsonObject)schema["items"]! : schema)["pattern"] = ThingIdAttribute.Pattern;
    }

    // RFC 7946 asks more of a geometry than the attributes can say.
    private static void AddGeometry(JsonObject schema, PropertyInfo property)
    {
        if (property.DeclaringType == typeof(GeoPoint) && property.Name == nameof(GeoPoint.Type)) Constant(schema, "Point");
        if (property.DeclaringType == typeof(GeoLine) && property.Name == nameof(GeoLine.Type)) Constant(schema, "LineString");
        if (property.DeclaringType == typeof(GeoPoint) && property.Name == nameof(GeoPoint.Coordinates)) Position(schema);
        if (property.DeclaringType == typeof(GeoLine) && property.Name == nameof(GeoLine.Coordinates)) Position((JsonObject)schema["items"]!);
    }

    private static void Constant(JsonObject schema, string word)
    {
        schema.Remove("maxLength");
        schema.Remove("pattern");
        schema["const"] = word;
    }

    private static void Position(JsonObject schema)
    {
        schema["minItems"] = 2;
        schema["maxItems"] = 3;
        schema["prefixItems"] = new JsonArray(Degrees(180), Degrees(90), new JsonObject { ["type"] = "number", ["x-unit"] = "m" });
        schema["items"] = false;
    }

    private static JsonObject Degrees(int most) =>
        new() { ["type"] = "number", ["minimum"] = -most, ["maximum"] = most, ["x-unit"] = "deg" };

    private static void AddWords(JsonObject schema, Type type, bool mayMiss)
    {
        var words = new JsonObject();
        foreach (var word in type.GetFields(BindingFlags.Public | BindingFlags.Static))
            words[JsonNamingPolicy.KebabCaseLower.ConvertName(word.Name)] = Comments.Of(word);
        schema["enum"] = new JsonArray([.. words.Select(word => (JsonNode?)word.Key), .. mayMiss ? (JsonNode?[])[null] : []]);
        schema["type"] = mayMiss ? new JsonArray("string", "null") : "string";
        schema["x-words"] = words;
    }

    // By way of decimal, so that 0.000001 does not become 1E-06.
    private static JsonValue Number(double value) => JsonValue.Create((decimal)value);

    private static JsonObject Append(JsonObject schema, JsonObject more)
    {
        foreach (var (name, value) in more.ToList())
        {
            more.Remove(name);
            schema[name] = value;
        }

        return schema;
    }
}
