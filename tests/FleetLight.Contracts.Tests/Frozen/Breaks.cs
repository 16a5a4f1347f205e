using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.Frozen;

/// <summary>Finds what in a document of the contract would break those who relied on an earlier one, each in a line.</summary>
internal static class Breaks
{
    /// <summary>Between two OpenAPI documents.</summary>
    public static IReadOnlyList<string> OfOpenApi(JsonObject was, JsonObject now)
    {
        List<string> found = [];
        SchemaBreaks schemas = new(was, now, found);
        foreach (var (path, operations) in Members(was["paths"]))
        {
            foreach (var (method, operation) in Members(operations))
            {
                var at = $"{method} {path}";
                if (now["paths"]?[path]?[method] is { } same) Operation(schemas, found, at, operation!, same);
                else found.Add($"{at}: is gone");
            }
        }

        // What the service sends to others: a body that goes out.
        foreach (var (name, item) in Members(was["webhooks"]))
        {
            foreach (var (method, operation) in Members(item))
            {
                if (now["webhooks"]?[name]?[method] is not { } same) found.Add($"webhook {name}: is gone");
                else Content(schemas, found, $"webhook {name}", operation!["requestBody"]?["content"], same["requestBody"]?["content"], Direction.Out);
            }
        }

        return found;
    }

    /// <summary>Between two AsyncAPI documents.</summary>
    public static IReadOnlyList<string> OfAsyncApi(JsonObject was, JsonObject now)
    {
        List<string> found = [];
        SchemaBreaks schemas = new(was, now, found);
        foreach (var (name, operation) in Members(was["operations"]))
        {
            if (now["operations"]?[name] is not { } same) found.Add($"operation {name}: is gone");
            else if (Deed(same) != Deed(operation!)) found.Add($"operation {name}: does something else");
        }

        foreach (var (name, channel) in Members(was["channels"]))
        {
            if (now["channels"]?[name] is not { } same)
            {
                found.Add($"channel {name}: is gone");
                continue;
            }

            if ($"{channel!["address"]}" != $"{same["address"]}") found.Add($"channel {name}: was at {channel["address"]}, is at {same["address"]}");
            // From the service's side: it takes what it receives.
            var comesIn = Members(was["operations"]).Any(each =>
                $"{each.Value!["channel"]?["$ref"]}" == $"#/channels/{name}" && $"{each.Value["action"]}" == "receive");
            foreach (var (message, _) in Members(channel["messages"]))
            {
                var at = $"channel {name}, {message}";
                var (old, fresh) = (was["components"]?["messages"]?[message], now["components"]?["messages"]?[message]);
                if (same["messages"]?[message] is null || fresh is null)
                {
                    found.Add($"{at}: is gone");
                    continue;
                }

                if ($"{old?["contentType"]}" != $"{fresh["contentType"]}") found.Add($"{at}: was {old?["contentType"]}, is {fresh["contentType"]}");
                schemas.Compare(at, old?["payload"], fresh["payload"], comesIn ? Direction.In : Direction.Out);
            }
        }

        return found;
    }

    /// <summary>Between two schemas of facts: they are sent as they are read back.</summary>
    public static IReadOnlyList<string> OfSchema(string name, JsonObject was, JsonObject now)
    {
        List<string> found = [];
        new SchemaBreaks(was, now, found).Compare(name, was, now, Direction.In | Direction.Out);
        return found;
    }

    private static string Deed(JsonNode operation) => $"{operation["action"]} {operation["channel"]?["$ref"]}";

    private static void Operation(SchemaBreaks schemas, List<string> found, string at, JsonNode was, JsonNode now)
    {
        var (before, after) = (Parameters(was), Parameters(now));
        foreach (var ((name, place), parameter) in before)
        {
            if (!after.TryGetValue((name, place), out var same))
            {
                found.Add($"{at}, {place} {name}: is gone");
                continue;
            }

            if (IsTrue(same["required"]) && !IsTrue(parameter["required"])) found.Add($"{at}, {place} {name}: is needed now");
            schemas.Compare($"{at}, {place} {name}", parameter["schema"], same["schema"], Direction.In);
        }

        foreach (var ((name, place), parameter) in after)
        {
            if (IsTrue(parameter["required"]) && !before.ContainsKey((name, place))) found.Add($"{at}, {place} {name}: is needed now");
        }

        if (now["security"] is JsonArray { Count: > 0 } && was["security"] is not JsonArray { Count: > 0 }) found.Add($"{at}: needs a key now");
        Body(schemas, found, at, was["requestBody"], now["requestBody"]);
        foreach (var (status, response) in Members(was["responses"]))
        {
            // Other problems may come and go; what succeeds is relied on.
            if (now["responses"]?[status] is not { } same)
            {
                if (status[0] is '2' or '3') found.Add($"{at}, {status}: is gone");
                continue;
            }

            Content(schemas, found, $"{at}, {status}", response!["content"], same["content"], Direction.Out);
            foreach (var (header, _) in Members(response["headers"]))
            {
                if (same["headers"]?[header] is null) found.Add($"{at}, {status}, header {header}: is gone");
            }
        }
    }

    private static void Body(SchemaBreaks schemas, List<string> found, string at, JsonNode? was, JsonNode? now)
    {
        if (was is null)
        {
            if (IsTrue(now?["required"])) found.Add($"{at}: a body is needed now");
            return;
        }

        if (now is null)
        {
            found.Add($"{at}: no body is taken any more");
            return;
        }

        if (IsTrue(now["required"]) && !IsTrue(was["required"])) found.Add($"{at}: a body is needed now");
        Content(schemas, found, $"{at}, body", was["content"], now["content"], Direction.In);
    }

    private static void Content(SchemaBreaks schemas, List<string> found, string at, JsonNode? was, JsonNode? now, Direction direction)
    {
        foreach (var (mediaType, content) in Members(was))
        {
            if (now?[mediaType] is { } same) schemas.Compare(at, content!["schema"], same["schema"], direction);
            else found.Add($"{at}, {mediaType}: is gone");
        }
    }

    private static Dictionary<(string Name, string Place), JsonNode> Parameters(JsonNode operation) => (operation["parameters"] as JsonArray ?? [])
        .ToDictionary(each => (each!["name"]!.GetValue<string>(), each["in"]!.GetValue<string>()), each => each!);

    private static bool IsTrue(JsonNode? node) => node is JsonValue value && value.TryGetValue(out bool isSo) && isSo;

    private static JsonObject Members(JsonNode? node) => node as JsonObject ?? [];
}
