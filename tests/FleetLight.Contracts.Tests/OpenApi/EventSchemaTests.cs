using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Tests.Examples;
using FleetLight.Contracts.Tests.Schemas;
using Json.Schema;

namespace FleetLight.Contracts.Tests.OpenApi;

/// <summary>The document describes events by the same rules as the schemas beside it.</summary>
public class EventSchemaTests(QuietService service) : IClassFixture<QuietService>
{
    [Fact]
    public async Task The_examples_are_events_by_the_document_and_spoiled_ones_are_not()
    {
        var events = EventSchema(await OpenApiDocument.ServedBy(service));
        foreach (var (type, record) in FactTypes.All)
        {
            Assert.True(events.Evaluate(Example.Event(type)).IsValid, type);
            var taken = Spoiled.Variants(SchemaWriter.Write(type, record), Example.Event(type).GetProperty("data"))
                .Where(variant => !IsBeyond(variant) && events.Evaluate(With(type, variant.Data)).IsValid)
                .Select(variant => variant.How);
            Nothing.In(taken.Select(how => $"{type}{how}"));
        }
    }

    // The document does not say that a text may not be blank, nor what RFC 7946 asks of a geometry beyond its members.
    private static bool IsBeyond(Spoiled variant) =>
        variant.How.EndsWith(" blank", StringComparison.Ordinal) || variant.How.EndsWith(": type no such word", StringComparison.Ordinal);

    private static JsonSchema EventSchema(OpenApiDocument document)
    {
        var schemas = document.Schemas.ToJsonString().Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal);
        var whole = new JsonObject { ["$schema"] = SchemaWriter.Dialect, ["$ref"] = "#/$defs/Event", ["$defs"] = JsonNode.Parse(schemas) };
        return JsonSchema.FromText(whole.ToJsonString(), new BuildOptions { SchemaRegistry = new SchemaRegistry() });
    }

    private static JsonElement With(string type, JsonElement data)
    {
        var whole = JsonNode.Parse(Example.Text(type))!;
        whole["data"] = JsonNode.Parse(data.GetRawText());
        return JsonSerializer.SerializeToElement(whole);
    }
}
