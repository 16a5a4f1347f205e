using System.Globalization;
using System.Text.Json.Nodes;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace FleetLight.Deploy.Tests.Files;

/// <summary>Reads YAML as the JSON that it stands for (YAML 1.2 core schema), for what judges JSON.</summary>
internal static class Yaml
{
    /// <summary>The one document of a file.</summary>
    public static JsonNode Read(string path) => Documents(path).Single();

    /// <summary>The documents of a file. A key that stands twice is an error.</summary>
    public static IEnumerable<JsonNode> Documents(string path)
    {
        YamlStream stream = [];
        using StringReader text = new(Repository.Read(path));
        stream.Load(text);
        return [.. stream.Documents.Select(document => Convert(document.RootNode)!)];
    }

    private static JsonNode? Convert(YamlNode node) => node switch
    {
        YamlMappingNode map => Merge(map),
        YamlSequenceNode list => new JsonArray([.. list.Children.Select(Convert)]),
        YamlScalarNode { Style: ScalarStyle.Plain } plain => Plain(plain.Value!),
        YamlScalarNode text => JsonValue.Create(text.Value),
        _ => throw new InvalidOperationException($"No JSON stands for {node}."),
    };

    // The key << takes in what another map says, as far as this one does not say otherwise.
    private static JsonObject Merge(YamlMappingNode map)
    {
        JsonObject merged = [];
        foreach ((YamlNode key, YamlNode value) in map.Children) merged[((YamlScalarNode)key).Value!] = Convert(value);
        if (merged.Remove("<<", out JsonNode? other))
        {
            foreach ((string key, JsonNode? value) in other!.AsObject().ToArray()) merged.TryAdd(key, value?.DeepClone());
        }

        return merged;
    }

    private static JsonValue? Plain(string text) => text switch
    {
        "" or "~" or "null" => null,
        "true" => JsonValue.Create(true),
        "false" => JsonValue.Create(false),
        _ when long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long whole) => JsonValue.Create(whole),
        _ when double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number) => JsonValue.Create(number),
        _ => JsonValue.Create(text),
    };
}
