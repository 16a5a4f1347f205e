using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.OpenApi;

/// <summary>One operation of the document.</summary>
/// <param name="Path">Its path.</param>
/// <param name="Method">Its method, in small letters.</param>
/// <param name="Described">What the document says of it.</param>
internal sealed record Operation(string Path, string Method, JsonObject Described)
{
    /// <summary>Its answers by status.</summary>
    public JsonObject Responses => Described["responses"]!.AsObject();

    /// <summary>Its parameters.</summary>
    public IEnumerable<JsonObject> Parameters => (Described["parameters"] as JsonArray ?? []).Select(each => each!.AsObject());

    /// <summary>A media type of its body, where it takes one.</summary>
    public string? MediaType => (Described["requestBody"]?["content"] as JsonObject)?.First().Key;

    /// <summary>Whether it asks for a key.</summary>
    public bool NeedsKey => Described["security"] is JsonArray { Count: > 0 };

    public override string ToString() => $"{Method} {Path}";
}

/// <summary>The document as the tests look at it.</summary>
internal sealed class OpenApiDocument(JsonObject root)
{
    /// <summary>The whole of it.</summary>
    public JsonObject Root => root;

    /// <summary>Its schemas by name.</summary>
    public JsonObject Schemas => root["components"]!["schemas"]!.AsObject();

    /// <summary>Every operation of every path.</summary>
    public IReadOnlyList<Operation> Operations =>
    [
        .. root["paths"]!.AsObject().SelectMany(path => path.Value!.AsObject()
            .Select(operation => new Operation(path.Key, operation.Key, operation.Value!.AsObject()))),
    ];

    /// <summary>The document that the service serves.</summary>
    public static async Task<OpenApiDocument> ServedBy(QuietService service) =>
        new(JsonNode.Parse(await service.Client.GetStringAsync("/openapi/v1.json", TestContext.Current.CancellationToken))!.AsObject());
}
