using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Tests.Schemas;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Intake;

namespace FleetLight.Contracts.Tests.Examples;

/// <summary>Whoever checks against the schemas before sending learns the same as from the service's answer.</summary>
public class RefusalTests
{
    public static TheoryData<string> Types => [.. FactTypes.All.Select(pair => pair.Key)];

    [Theory]
    [MemberData(nameof(Types))]
    public void What_the_schema_refuses_the_service_refuses(string type)
    {
        var variants = Spoiled.Variants(SchemaWriter.Write(type, FactTypes.Find(type)!), Example.Event(type).GetProperty("data"));
        Assert.True(variants.Count > 5);
        Nothing.In(variants.Where(variant => SchemaSet.Faults(type, variant.Data).Count == 0).Select(variant => variant.How));
        Nothing.In(variants.Where(variant => Refusal(type, variant.Data) is null).Select(variant => variant.How));
    }

    [Theory]
    [InlineData("id", null)]
    [InlineData("id", "\"\"")]
    [InlineData("source", null)]
    [InlineData("source", "17")]
    [InlineData("type", null)]
    [InlineData("type", "\"fleetlight.duct.laid.v99\"")]
    [InlineData("time", null)]
    [InlineData("time", "\"yesterday\"")]
    [InlineData("specversion", null)]
    [InlineData("specversion", "\"0.3\"")]
    [InlineData("runningnumber", null)]
    [InlineData("runningnumber", "0")]
    [InlineData("runningnumber", "\"7\"")]
    [InlineData("runningnumber", "2147483648")]
    [InlineData("datacontenttype", "\"text/xml\"")]
    [InlineData("data", null)]
    [InlineData("data", "[]")]
    [InlineData("Upper", "\"case\"")]
    public void A_bad_envelope_is_refused_by_both(string attribute, string? json)
    {
        var envelope = JsonNode.Parse(Example.Text("fleetlight.duct.laid.v1"))!.AsObject();
        if (json is null) envelope.Remove(attribute);
        else envelope[attribute] = JsonNode.Parse(json);
        Assert.NotEmpty(SchemaSet.Faults(EnvelopeSchema.Name, JsonSerializer.SerializeToElement(envelope)));
        Assert.NotNull(Read(envelope));
    }

    [Theory]
    [InlineData("null")]
    [InlineData("true")]
    [InlineData("7")]
    [InlineData("1.5")]
    [InlineData("1e400")]
    [InlineData("-2147483649")]
    [InlineData("\"\"")]
    [InlineData("\"x\"")]
    [InlineData("\"\\u0000\"")]
    [InlineData("\"\\ud800\"")]
    [InlineData("{\"\\u0000\":1}")]
    [InlineData("[]")]
    [InlineData("{}")]
    [InlineData("{\"\\ud800\":1}")]
    [InlineData("{\"siteId\":\"\\ud800\"}")]
    public void No_value_in_an_envelope_brings_the_reader_down(string json)
    {
        string[] attributes =
        [
            "specversion", "id", "source", "type", "time", "runningnumber", "datacontenttype", "dataschema", "subject", "data", "data_base64",
            "other", "\\ud800",
        ];
        foreach (var attribute in attributes)
        {
            var envelope = JsonNode.Parse(Example.Text("fleetlight.duct.laid.v1"))!.AsObject();
            envelope.Remove(attribute);
            var text = $"{{\"{attribute}\":{json},{envelope.ToJsonString()[1..]}";
            var (events, problem) = BatchReader.Read(Encoding.UTF8.GetBytes($"[{text}]"), batch: true, "/devices/crew-1");
            Assert.Null(problem);
            Assert.True(events[0].Fact is null != events[0].Problem is null, $"{attribute}: {events[0]}");
            Assert.DoesNotContain('\0', $"{events[0].Id} {events[0].Problem?.Field} {events[0].Problem?.Detail}");
        }
    }

    [Theory]
    [InlineData("traceparent", "\"00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01\"")]
    [InlineData("traceparent", "null")]
    [InlineData("priority", "3")]
    [InlineData("urgent", "true")]
    [InlineData("subject", "\"d-steps\"")]
    [InlineData("subject", "null")]
    [InlineData("dataschema", "\"urn:fleetlight:schema:fleetlight.duct.laid.v1\"")]
    [InlineData("datacontenttype", "\"application/json; charset=utf-8\"")]
    [InlineData("datacontenttype", "null")]
    public void What_else_CloudEvents_allows_is_taken_by_both(string attribute, string json)
    {
        var envelope = JsonNode.Parse(Example.Text("fleetlight.duct.laid.v1"))!.AsObject();
        envelope[attribute] = JsonNode.Parse(json);
        Assert.Empty(SchemaSet.Faults(EnvelopeSchema.Name, JsonSerializer.SerializeToElement(envelope)));
        Assert.Null(Read(envelope));
    }

    private static Problem? Refusal(string type, JsonElement data)
    {
        var envelope = JsonNode.Parse(Example.Text(type))!.AsObject();
        envelope["data"] = JsonNode.Parse(data.GetRawText());
        return Read(envelope);
    }

    private static Problem? Read(JsonObject envelope)
    {
        var (events, problem) = BatchReader.Read(Encoding.UTF8.GetBytes(envelope.ToJsonString()), batch: false, "/devices/crew-1");
        return problem ?? Assert.Single(events).Problem;
    }
}
