using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.Frozen;

/// <summary>What was released is kept in <c>contracts/frozen</c>: the contract as it is now breaks nobody who relies on it.</summary>
public sealed class FrozenTests
{
    private const string Remedy =
        "Whoever relies on the release would break. Add beside what is there, or count the version up (DEVELOPERS.md, Making a release).";

    [Fact]
    public void Nothing_of_the_released_OpenAPI_document_is_broken() => Holds("openapi", Breaks.OfOpenApi);

    [Fact]
    public void Nothing_of_the_released_AsyncAPI_document_is_broken() => Holds("asyncapi", Breaks.OfAsyncApi);

    // A type of fact, once accepted, is accepted for ever, whatever the version of the API.
    [Fact]
    public void Nothing_of_a_released_schema_of_a_fact_is_broken()
    {
        var files = Directory.EnumerateFiles(Repository.At("contracts/frozen"), "*.schema.json", SearchOption.AllDirectories).Order(StringComparer.Ordinal).ToArray();
        Assert.NotEmpty(files);
        List<string> found = [];
        foreach (var file in files)
        {
            var name = Path.GetFileName(file);
            var now = Repository.At($"contracts/schemas/{name}");
            if (File.Exists(now)) found.AddRange(Breaks.OfSchema(name, Read(file), Read(now)));
            else found.Add($"{name}: is gone");
        }

        Assert.True(found.Count == 0, string.Join('\n', found.Append(Remedy)));
    }

    private static void Holds(string kind, Func<JsonObject, JsonObject, IReadOnlyList<string>> breaks)
    {
        var now = Read(Repository.At($"contracts/{kind}/v1.json"));
        var version = now["info"]!["version"]!.GetValue<string>();
        var frozen = Repository.At($"contracts/frozen/{version}/{kind}.json");
        Assert.True(File.Exists(frozen), $"Nothing was frozen of version {version}: see DEVELOPERS.md, Making a release.");
        var found = breaks(Read(frozen), now);
        Assert.True(found.Count == 0, string.Join('\n', found.Append(Remedy)));
    }

    private static JsonObject Read(string file) => JsonNode.Parse(File.ReadAllText(file))!.AsObject();
}
