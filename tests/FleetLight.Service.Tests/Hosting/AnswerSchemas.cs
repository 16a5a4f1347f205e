using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Testing.Service;
using Json.Schema;
using Xunit;

namespace FleetLight.Service.Tests.Hosting;

/// <summary>Checks answers against what the OpenAPI document says of them; a member that it does not name is a fault too.</summary>
internal sealed class AnswerSchemas
{
    private static readonly EvaluationOptions Whole = new() { OutputFormat = OutputFormat.List, RequireFormatValidation = true };
    private readonly JsonObject paths;
    private readonly JsonObject definitions;

    private AnswerSchemas(JsonObject document)
    {
        paths = document["paths"]!.AsObject();
        definitions = document["components"]!["schemas"]!.AsObject();
        foreach ((_, JsonNode? schema) in definitions)
        {
            if (schema!["properties"] is not null && schema["additionalProperties"] is null) schema["additionalProperties"] = false;
        }
    }

    /// <summary>Reads the document that the service serves.</summary>
    public static async Task<AnswerSchemas> ReadAsync(ApiClient api) => new((await api.GetAsync("/openapi/v1.json")).Json.AsObject());

    /// <summary>Asserts that the answer is one that the document describes for the operation.</summary>
    public void Check(string method, string path, Answer answer)
    {
        string what = $"{method} {path} answered {(int)answer.Status}";
        JsonNode? response = paths[path]![method.ToLowerInvariant()]!["responses"]![$"{(int)answer.Status}"];
        Assert.True(response is not null, $"{what}, which is not described.");
        if (response["content"] is not { } content)
        {
            Assert.True(answer.Body.Length == 0, $"{what} with content that is not described.");
            return;
        }

        Assert.True(answer.MediaType is not null && content[answer.MediaType] is not null, $"{what} as {answer.MediaType}, which is not described.");
        // A JSON value a line is no JSON value.
        if (answer.MediaType!.EndsWith("json", StringComparison.Ordinal) && answer.MediaType != "application/x-ndjson"
            && content[answer.MediaType]!["schema"] is { } schema)
            Check(what, schema, answer);
    }

    private void Check(string what, JsonNode schema, Answer answer)
    {
        JsonObject whole = schema.DeepClone().AsObject();
        whole["$schema"] = "https://json-schema.org/draft/2020-12/schema";
        whole["$defs"] = definitions.DeepClone();
        string text = whole.ToJsonString().Replace("#/components/schemas/", "#/$defs/", StringComparison.Ordinal);
        using JsonDocument body = JsonDocument.Parse(answer.Body);
        EvaluationResults found = JsonSchema.FromText(text, new BuildOptions { SchemaRegistry = new SchemaRegistry() }).Evaluate(body.RootElement, Whole);
        Assert.True(found.IsValid, $"{what}: {string.Join("; ", Errors(found))}\n{answer.Text}");
    }

    private static IEnumerable<string> Errors(EvaluationResults found) => (found.Details ?? [])
        .Where(detail => detail.Errors is { Count: > 0 })
        .Select(detail => $"{detail.InstanceLocation}: {string.Join(", ", detail.Errors!.Select(error => $"{error.Key} {error.Value}"))}");
}
