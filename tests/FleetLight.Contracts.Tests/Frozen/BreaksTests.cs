using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.Frozen;

/// <summary>Each rule, with a document that breaks it and one that does not.</summary>
public sealed class BreaksTests
{
    private const string Was =
        """
        { "paths": { "/v1/things": {
            "get": {
              "parameters": [{ "name": "kind", "in": "query", "schema": { "type": "string", "enum": ["duct", "box"] } }],
              "responses": { "200": { "headers": { "ETag": {} }, "content": { "application/json": { "schema": { "$ref": "#/components/schemas/View" } } } }, "404": {} }
            },
            "post": {
              "requestBody": { "content": { "application/json": { "schema": { "$ref": "#/components/schemas/Wish" } } } },
              "responses": { "201": {} }
            } } },
          "webhooks": { "told": { "post": { "requestBody": { "content": { "application/json": { "schema": { "$ref": "#/components/schemas/View" } } } } } } },
          "components": { "schemas": {
            "View": { "type": "object", "required": ["id"], "properties": {
              "id": { "type": "string" }, "lengthMetres": { "type": "number", "x-unit": "m" }, "word": { "type": "string", "enum": ["a", "b"] },
              "inner": { "$ref": "#/components/schemas/View" }, "list": { "type": "array", "items": { "type": "integer" } } } },
            "Wish": { "type": "object", "required": ["id"], "additionalProperties": false, "properties": {
              "id": { "type": "string", "maxLength": 64, "pattern": "^[a-z]+$" },
              "lengthMetres": { "type": "number", "minimum": 0.1, "maximum": 2000, "x-unit": "m" },
              "word": { "type": "string", "enum": ["a", "b"] }, "list": { "type": "array", "maxItems": 10, "items": { "oneOf": [
                { "type": "string" }, { "type": "integer" }] } } } } } } }
        """;

    public static TheoryData<string, string, string, string> Breaking => new()
    {
        { "a path goes", "\"/v1/things\"", "\"/v1/others\"", "get /v1/things: is gone" },
        {
            "an operation goes",
            "\"post\": {\n      \"requestBody\": { \"content\": { \"application/json\": { \"schema\": { \"$ref\": \"#/components/schemas/Wish\"",
            "\"put\": {\n      \"requestBody\": { \"content\": { \"application/json\": { \"schema\": { \"$ref\": \"#/components/schemas/Wish\"",
            "post /v1/things: is gone"
        },
        { "a parameter goes", "\"name\": \"kind\"", "\"name\": \"sort\"", "get /v1/things, query kind: is gone" },
        { "a parameter is needed", "\"in\": \"query\"", "\"in\": \"query\", \"required\": true", "get /v1/things, query kind: is needed now" },
        { "a word of a parameter goes", "[\"duct\", \"box\"]", "[\"duct\"]", "get /v1/things, query kind: the word box is not taken any more" },
        { "an answer goes", "\"200\"", "\"206\"", "get /v1/things, 200: is gone" },
        { "a header goes", "\"ETag\"", "\"Age\"", "get /v1/things, 200, header ETag: is gone" },
        {
            "a media type goes",
            "\"headers\": { \"ETag\": {} }, \"content\": { \"application/json\"",
            "\"headers\": { \"ETag\": {} }, \"content\": { \"text/plain\"",
            "get /v1/things, 200, application/json: is gone"
        },
        {
            "a body is needed",
            "\"requestBody\": { \"content\": { \"application/json\": { \"schema\": { \"$ref\": \"#/components/schemas/Wish\"",
            "\"requestBody\": { \"required\": true, \"content\": { \"application/json\": { \"schema\": { \"$ref\": \"#/components/schemas/Wish\"",
            "post /v1/things: a body is needed now"
        },
        { "a webhook goes", "\"told\"", "\"said\"", "webhook told: is gone" },
        { "a key is needed", "\"get\": {", "\"get\": { \"security\": [{ \"key\": [] }],", "get /v1/things: needs a key now" },
        { "a member that is read goes", "\"inner\":", "\"outer\":", ".inner: the member is gone" },
        {
            "a member that is read may be absent",
            "\"View\": { \"type\": \"object\", \"required\": [\"id\"]",
            "\"View\": { \"type\": \"object\", \"required\": []",
            ".id: the member may be absent now"
        },
        {
            "what is read has another type",
            "\"properties\": {\n      \"id\": { \"type\": \"string\" }",
            "\"properties\": {\n      \"id\": { \"type\": \"integer\" }",
            ".id: the type was string, integer is said"
        },
        {
            "what is read may be null",
            "\"properties\": {\n      \"id\": { \"type\": \"string\" }",
            "\"properties\": {\n      \"id\": { \"type\": [\"string\", \"null\"] }",
            ".id: the type was string, string or null is said"
        },
        {
            "a member of a list is another",
            "\"items\": { \"type\": \"integer\" }",
            "\"items\": { \"type\": \"number\" }",
            ".list[]: the type was integer, number is said"
        },
        {
            "a unit is another",
            "\"type\": \"number\", \"x-unit\": \"m\"",
            "\"type\": \"number\", \"x-unit\": \"mm\"",
            ".lengthMetres: x-unit was m, is mm"
        },
        {
            "a member that is sent goes",
            "\"maximum\": 2000, \"x-unit\": \"m\" },\n      \"word\"",
            "\"maximum\": 2000, \"x-unit\": \"m\" },\n      \"sign\"",
            "body.word: the member is gone"
        },
        {
            "a member has to be sent",
            "\"Wish\": { \"type\": \"object\", \"required\": [\"id\"]",
            "\"Wish\": { \"type\": \"object\", \"required\": [\"id\", \"word\"]",
            "body.word: the member is needed now"
        },
        {
            "a word that is sent goes",
            "\"word\": { \"type\": \"string\", \"enum\": [\"a\", \"b\"] }, \"list\": { \"type\": \"array\", \"maxItems\"",
            "\"word\": { \"type\": \"string\", \"enum\": [\"a\"] }, \"list\": { \"type\": \"array\", \"maxItems\"",
            "body.word: the word b is not taken any more"
        },
        { "a text may be less long", "\"maxLength\": 64", "\"maxLength\": 32", "body.id: maxLength was 64, is 32" },
        { "a number may be less", "\"maximum\": 2000", "\"maximum\": 1000", "body.lengthMetres: maximum was 2000, is 1000" },
        { "a number must be more", "\"minimum\": 0.1", "\"minimum\": 1", "body.lengthMetres: minimum was 0.1, is 1" },
        { "a list may be less long", "\"maxItems\": 10", "\"maxItems\": 5", "body.list: maxItems was 10, is 5" },
        { "another pattern", "^[a-z]+$", "^[a-z]{2}$", "body.id: another pattern is asked for" },
        { "an alternative goes", "{ \"type\": \"string\" }, { \"type\": \"integer\" }", "{ \"type\": \"string\" }", "/oneOf/1: is gone" },
        { "a limit where there was none", "\"maxLength\": 64", "\"maxLength\": 64, \"minLength\": 2", "body.id: minLength was none, is 2" },
    };

    public static TheoryData<string, string, string> Sound => new()
    {
        { "nothing", "\"404\"", "\"404\"" },
        { "another problem", "\"404\"", "\"409\"" },
        { "a path more", "\"/v1/things\": {", "\"/v1/more\": { \"get\": { \"responses\": {} } }, \"/v1/things\": {" },
        {
            "a parameter more",
            "\"parameters\": [",
            "\"parameters\": [{ \"name\": \"sort\", \"in\": \"query\", \"schema\": { \"type\": \"string\" } }, "
        },
        { "a word more of a parameter", "[\"duct\", \"box\"]", "[\"duct\", \"box\", \"cable\"]" },
        {
            "a member more to read",
            "\"View\": { \"type\": \"object\", \"required\": [\"id\"], \"properties\": {",
            "\"View\": { \"type\": \"object\", \"required\": [\"id\", \"more\"], \"properties\": { \"more\": { \"type\": \"string\" },"
        },
        {
            "a member more that may be sent",
            "\"additionalProperties\": false, \"properties\": {",
            "\"additionalProperties\": false, \"properties\": { \"more\": { \"type\": \"string\" },"
        },
        {
            "a word more to read",
            "\"word\": { \"type\": \"string\", \"enum\": [\"a\", \"b\"] },\n      \"inner\"",
            "\"word\": { \"type\": \"string\", \"enum\": [\"a\", \"b\", \"c\"] },\n      \"inner\""
        },
        {
            "a whole number where a number was read",
            "\"lengthMetres\": { \"type\": \"number\", \"x-unit\"",
            "\"lengthMetres\": { \"type\": \"integer\", \"x-unit\""
        },
        { "a longer text", "\"maxLength\": 64", "\"maxLength\": 128" },
        { "any text", "\"maxLength\": 64, \"pattern\": \"^[a-z]+$\"", "\"title\": \"any\"" },
        { "a wider range", "\"minimum\": 0.1, \"maximum\": 2000", "\"minimum\": 0, \"maximum\": 3000" },
        {
            "an alternative more",
            "{ \"type\": \"string\" }, { \"type\": \"integer\" }",
            "{ \"type\": \"string\" }, { \"type\": \"integer\" }, { \"type\": \"boolean\" }"
        },
        {
            "a member need not be sent",
            "\"Wish\": { \"type\": \"object\", \"required\": [\"id\"]",
            "\"Wish\": { \"type\": \"object\", \"required\": []"
        },
    };

    [Theory]
    [MemberData(nameof(Breaking))]
    public void What_breaks_somebody_is_found(string name, string part, string instead, string expected)
    {
        var found = Breaks.OfOpenApi(Read(Was), Read(Changed(part, instead)));

        Assert.True(found.Any(line => line.EndsWith(expected, StringComparison.Ordinal)), $"{name}: {string.Join('\n', found)}");
    }

    [Theory]
    [MemberData(nameof(Sound))]
    public void What_breaks_nobody_is_not(string name, string part, string instead)
    {
        var found = Breaks.OfOpenApi(Read(Was), Read(Changed(part, instead)));

        Assert.True(found.Count == 0, $"{name}: {string.Join('\n', found)}");
    }

    [Theory]
    [InlineData("\"told\": { \"action\"", "\"said\": { \"action\"", "operation told: is gone")]
    [InlineData("\"action\": \"send\"", "\"action\": \"receive\"", "operation told: does something else")]
    [InlineData("\"stream\": { \"address\"", "\"river\": { \"address\"", "channel stream: is gone")]
    [InlineData("\"/v1/stream\"", "\"/v2/stream\"", "channel stream: was at /v1/stream, is at /v2/stream")]
    [InlineData("\"messages\": { \"fact\": {}", "\"messages\": { \"deed\": {}", "channel stream, fact: is gone")]
    [InlineData("\"application/cloudevents+json\"", "\"application/json\"", "channel stream, fact: was application/cloudevents+json, is application/json")]
    [InlineData("\"id\": { \"type\": \"string\" }", "\"name\": { \"type\": \"string\" }", "channel stream, fact.id: the member is gone")]
    public void What_breaks_somebody_who_is_told_is_found(string part, string instead, string expected)
    {
        const string was =
            """
            { "operations": { "told": { "action": "send", "channel": { "$ref": "#/channels/stream" } } },
              "channels": { "stream": { "address": "/v1/stream", "messages": { "fact": {} } } },
              "components": { "messages": { "fact": { "contentType": "application/cloudevents+json", "payload": {
                "type": "object", "properties": { "id": { "type": "string" } } } } } } }
            """;
        Assert.Contains(part, was, StringComparison.Ordinal);

        Assert.Contains(expected, Breaks.OfAsyncApi(Read(was), Read(was.Replace(part, instead, StringComparison.Ordinal))));
        Assert.Empty(Breaks.OfAsyncApi(Read(was), Read(was)));
    }

    [Fact]
    public void A_fact_is_held_both_ways()
    {
        const string was = """{ "type": "object", "required": ["a"], "properties": { "a": { "type": "string" } } }""";
        const string needsMore = """{ "type": "object", "required": ["a", "b"], "properties": { "a": { "type": "string" }, "b": { "type": "string" } } }""";
        const string saysLess = """{ "type": "object", "properties": { "a": { "type": "string" } } }""";

        Assert.Equal(["f.b: the member is needed now"], Breaks.OfSchema("f", Read(was), Read(needsMore)));
        Assert.Equal(["f.a: the member may be absent now"], Breaks.OfSchema("f", Read(was), Read(saysLess)));
    }

    [Fact]
    public void A_type_more_asks_nothing_of_those_that_were_there()
    {
        string was = Envelope(("a", "urn:a"), ("c", "urn:c"));

        Assert.Empty(Breaks.OfSchema("f", Read(was), Read(Envelope(("a", "urn:a"), ("b", "urn:b"), ("c", "urn:c")))));
        Assert.NotEmpty(Breaks.OfSchema("f", Read(was), Read(Envelope(("a", "urn:a")))));
        Assert.NotEmpty(Breaks.OfSchema("f", Read(was), Read(was.Replace("\"allOf\": [", "\"allOf\": [{ \"minProperties\": 3 }, ", StringComparison.Ordinal))));
    }

    private static string Envelope(params (string Type, string Data)[] types) => $$"""
        { "type": "object", "allOf": [{{string.Join(", ", types.Select(each => $$"""
            { "if": { "properties": { "type": { "const": "{{each.Type}}" } } }, "then": { "properties": { "data": { "$ref": "{{each.Data}}" } } } }
            """))}}] }
        """;

    private static string Changed(string part, string instead)
    {
        var document = Was.ReplaceLineEndings("\n");
        var at = document.IndexOf(part, StringComparison.Ordinal);
        Assert.True(at >= 0, $"The document has no {part}.");
        return document[..at] + instead + document[(at + part.Length)..];
    }

    private static JsonObject Read(string text) => JsonNode.Parse(text)!.AsObject();
}
