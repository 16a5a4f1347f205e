using System.Text;
using System.Text.Json.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Service.Tests.Access;

/// <summary>An operation of the service as its OpenAPI document lists it.</summary>
/// <param name="Method">HTTP method.</param>
/// <param name="Path">Path with its parameters in braces.</param>
/// <param name="Scope">The scope that its description asks for; none where it asks for no key.</param>
/// <param name="ContentType">Content type of its body; none where it takes none.</param>
internal sealed record Operation(string Method, string Path, string? Scope, string? ContentType)
{
    /// <summary>Every operation of the document.</summary>
    public static async Task<IReadOnlyList<Operation>> AllAsync(ApiClient api)
    {
        JsonNode document = (await api.GetAsync("/openapi/v1.json")).Json;
        List<Operation> all = [];
        foreach ((string path, JsonNode? methods) in document["paths"]!.AsObject())
        {
            foreach ((string method, JsonNode? operation) in methods!.AsObject())
            {
                string? content = operation!["requestBody"]?["content"]?.AsObject().First().Key;
                all.Add(new Operation(method.ToUpperInvariant(), path, ScopeIn(operation), content));
            }
        }

        return all;
    }

    /// <summary>Calls it with parameters in its path, and an empty JSON object as its body where it takes one.</summary>
    public Task<Answer> CallAsync(ApiClient api, Func<string, string> parameter, string? authorization = null)
    {
        StringBuilder path = new();
        foreach (string part in Path.Split('{'))
        {
            int end = part.IndexOf('}', StringComparison.Ordinal);
            if (end < 0) path.Append(part);
            else path.Append(Uri.EscapeDataString(parameter(part[..end]))).Append(part[(end + 1)..]);
        }

        HttpContent? content = ContentType is null ? null : new ByteArrayContent("{}"u8.ToArray());
        content?.Headers.TryAddWithoutValidation("Content-Type", ContentType);
        return authorization is null
            ? api.SendAsync(new HttpMethod(Method), path.ToString(), content)
            : api.SendAsync(new HttpMethod(Method), path.ToString(), content, ("Authorization", authorization));
    }

    public override string ToString() => $"{Method} {Path}";

    /// <summary>Stands for the scope where any key will do.</summary>
    public const string AnyScope = "any";

    private static string? ScopeIn(JsonNode operation)
    {
        if (operation["security"] is null) return null;
        string description = (string)operation["description"]!;
        if (description.EndsWith("Needs a key of any scope.", StringComparison.Ordinal)) return AnyScope;
        int start = description.IndexOf("scope '", StringComparison.Ordinal) + "scope '".Length;
        return description[start..description.IndexOf('\'', start)];
    }
}
