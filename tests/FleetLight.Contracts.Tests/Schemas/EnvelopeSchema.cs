using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.Contracts.Tests.Schemas;

/// <summary>Writes the JSON Schema of the envelope: CloudEvents 1.0 as FleetLight needs it, with the data by the type.</summary>
internal static class EnvelopeSchema
{
    /// <summary>Name of the schema.</summary>
    public const string Name = "envelope";

    // What CloudEvents 1.0 allows as the name of an attribute; 'data' is its own member.
    private const string AttributeName = "^[a-z0-9]+$";

    /// <summary>The schema.</summary>
    public static JsonObject Write() => new()
    {
        ["$schema"] = SchemaWriter.Dialect,
        ["$id"] = SchemaWriter.IdOf(Name),
        ["title"] = Name,
        ["description"] = "One fact in its envelope: CloudEvents 1.0 in JSON with FleetLight's running number.",
        ["type"] = "object",
        ["properties"] = Attributes(),
        ["required"] = new JsonArray("specversion", "id", "source", "type", "time", Envelope.RunningNumber, "data"),
        ["propertyNames"] = new JsonObject { ["pattern"] = AttributeName },
        ["additionalProperties"] = new JsonObject
        {
            ["description"] = "Any other extension attribute of CloudEvents 1.0. It is not kept.",
            ["type"] = new JsonArray("string", "integer", "boolean", "null"),
        },
        ["allOf"] = new JsonArray([.. FactTypes.All.Select(pair => DataOf(pair.Key))]),
    };

    private static JsonObject Attributes() => new()
    {
        ["specversion"] = new JsonObject { ["description"] = "Version of CloudEvents.", ["const"] = "1.0" },
        ["id"] = Text("The fact: unique within the source for ever, for instance a UUID. Sent again, it keeps its id.", 128),
        ["source"] = With(Text("The device that the key was made for.", 200), "format", "uri-reference"),
        ["type"] = new JsonObject
        {
            ["description"] = "The type of fact with its version.",
            ["enum"] = new JsonArray([.. FactTypes.All.Select(pair => JsonValue.Create(pair.Key))]),
        },
        ["time"] = new JsonObject
        {
            ["description"] = "When it happened, by the device's own clock, with the offset from UTC (RFC 3339).",
            ["type"] = "string",
            ["format"] = "date-time",
        },
        [Envelope.RunningNumber] = new JsonObject
        {
            ["description"] = "The device's own running number: 1, 2, 3, … without a gap.",
            ["type"] = "integer",
            ["minimum"] = 1,
            ["maximum"] = int.MaxValue,
            ["x-unit"] = "1",
        },
        ["datacontenttype"] = new JsonObject
        {
            ["description"] = "Always JSON; may be left out.",
            ["type"] = new JsonArray("string", "null"),
            ["pattern"] = "^[Aa][Pp][Pp][Ll][Ii][Cc][Aa][Tt][Ii][Oo][Nn]/[Jj][Ss][Oo][Nn]",
        },
        ["dataschema"] = MayMiss(With(Text("Address or name of the data's schema; may be left out and is not read.", 500), "format", "uri")),
        ["subject"] = MayMiss(Text("What the fact is about, for routing; may be left out and is not read.", 500)),
        ["data"] = new JsonObject { ["description"] = "What happened, as the type asks.", ["type"] = "object" },
    };

    private static JsonObject DataOf(string type) => new()
    {
        ["if"] = new JsonObject
        {
            ["properties"] = new JsonObject { ["type"] = new JsonObject { ["const"] = type } },
            ["required"] = new JsonArray("type"),
        },
        ["then"] = new JsonObject
        {
            ["properties"] = new JsonObject { ["data"] = new JsonObject { ["$ref"] = SchemaWriter.IdOf(type) } },
        },
    };

    private static JsonObject Text(string description, int most) =>
        new() { ["description"] = description, ["type"] = "string", ["minLength"] = 1, ["maxLength"] = most };

    private static JsonObject MayMiss(JsonObject schema) => With(schema, "type", new JsonArray("string", "null"));

    private static JsonObject With(JsonObject schema, string name, JsonNode value)
    {
        schema[name] = value;
        return schema;
    }
}
