using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.Frozen;

/// <summary>
/// Finds what in a JSON Schema would break those who relied on an earlier one. What comes in may only be allowed more, what goes out
/// may only say more. Words of an enumeration, members and alternatives may be added to what goes out: readers pass over what they do
/// not know (contracts/README.md).
/// </summary>
internal sealed class SchemaBreaks(JsonNode wasRoot, JsonNode isRoot, ICollection<string> found)
{
    private readonly HashSet<(string, string, Direction)> seen = [];

    /// <summary>Compares what was with what is.</summary>
    public void Compare(string at, JsonNode? was, JsonNode? now, Direction direction)
    {
        // A schema that refers to itself is compared once.
        if (Reference(was) is { } wasRef && Reference(now) is { } isRef && !seen.Add((wasRef, isRef, direction))) return;
        var (old, fresh) = (Resolve(wasRoot, was), Resolve(isRoot, now));
        // No schema, or an empty one, allows and says anything at all.
        if (old is null || fresh is null)
        {
            if (old is { Count: > 0 } && direction.HasFlag(Direction.Out)) found.Add($"{at}: what is said is described no more");
            if (fresh is { Count: > 0 } && direction.HasFlag(Direction.In)) found.Add($"{at}: what is taken is narrower");
            return;
        }

        Type(at, old, fresh, direction);
        Members(at, old, fresh, direction);
        Words(at, old, fresh, direction);
        Limits(at, old, fresh, direction);
        foreach (var name in (string[])["format", "const", "x-unit"])
        {
            if (old[name] is { } one && !JsonNode.DeepEquals(one, fresh[name])) found.Add($"{at}: {name} was {one}, is {fresh[name]?.ToString() ?? "none"}");
            else if (old[name] is null && fresh[name] is { } other && direction.HasFlag(Direction.In)) found.Add($"{at}: {name} {other} was not asked for");
        }

        if (old["items"] is not null || fresh["items"] is not null) Compare($"{at}[]", old["items"], fresh["items"], direction);
        foreach (var name in (string[])["allOf", "oneOf", "anyOf"]) Alternatives($"{at}/{name}", name, old, fresh, direction);
    }

    // A schema may also be true or false, which refers to nothing.
    private static string? Reference(JsonNode? schema) => (schema as JsonObject)?["$ref"]?.GetValue<string>();

    private static JsonObject? Resolve(JsonNode root, JsonNode? schema)
    {
        if (Reference(schema) is not { } reference) return schema as JsonObject;
        var node = root;
        foreach (var step in reference.TrimStart('#').Split('/', StringSplitOptions.RemoveEmptyEntries)) node = node?[step];
        return node as JsonObject;
    }

    private void Type(string at, JsonObject old, JsonObject fresh, Direction direction)
    {
        var (was, now) = (TypesOf(old), TypesOf(fresh));
        if (direction.HasFlag(Direction.In) && now.Count > 0 && (was.Count == 0 || !was.All(type => Takes(now, type))))
            found.Add($"{at}: the type was {Said(was)}, only {Said(now)} is taken");
        if (direction.HasFlag(Direction.Out) && was.Count > 0 && (now.Count == 0 || !now.All(type => Takes(was, type))))
            found.Add($"{at}: the type was {Said(was)}, {Said(now)} is said");
    }

    private static bool Takes(List<string> types, string type) => types.Contains(type) || (type == "integer" && types.Contains("number"));

    private static List<string> TypesOf(JsonObject schema) => schema["type"] switch
    {
        JsonArray several => [.. several.Select(each => each!.GetValue<string>())],
        JsonValue one => [one.GetValue<string>()],
        _ => [],
    };

    private static string Said(List<string> types) => types.Count == 0 ? "anything" : string.Join(" or ", types);

    private void Members(string at, JsonObject old, JsonObject fresh, Direction direction)
    {
        var (was, now) = (old["properties"] as JsonObject ?? [], fresh["properties"] as JsonObject ?? []);
        var (needed, needs) = (ListOf(old, "required"), ListOf(fresh, "required"));
        foreach (var (name, schema) in was)
        {
            if (now.ContainsKey(name)) Compare($"{at}.{name}", schema, now[name], direction);
            else found.Add($"{at}.{name}: the member is gone");
        }

        if (direction.HasFlag(Direction.In))
        {
            foreach (var name in needs.Except(needed)) found.Add($"{at}.{name}: the member is needed now");
            if (fresh["additionalProperties"]?.ToJsonString() == "false" && old["additionalProperties"]?.ToJsonString() != "false")
                found.Add($"{at}: unknown members are refused now");
        }

        if (direction.HasFlag(Direction.Out))
        {
            foreach (var name in needed.Except(needs).Where(now.ContainsKey)) found.Add($"{at}.{name}: the member may be absent now");
        }

        if (old["additionalProperties"] is JsonObject values && fresh["additionalProperties"] is JsonObject others) Compare($"{at}.*", values, others, direction);
    }

    // Null is a word too.
    private static string[] ListOf(JsonObject schema, string name) =>
        [.. (schema[name] as JsonArray ?? []).Select(each => each?.ToJsonString().Trim('"') ?? "null")];

    private void Words(string at, JsonObject old, JsonObject fresh, Direction direction)
    {
        if (!direction.HasFlag(Direction.In) || fresh["enum"] is null) return;
        if (old["enum"] is null) found.Add($"{at}: only some words are taken now");
        foreach (var word in ListOf(old, "enum").Except(ListOf(fresh, "enum"))) found.Add($"{at}: the word {word} is not taken any more");
    }

    private void Limits(string at, JsonObject old, JsonObject fresh, Direction direction)
    {
        if (!direction.HasFlag(Direction.In)) return;
        foreach (var name in (string[])["minimum", "exclusiveMinimum", "minLength", "minItems"])
        {
            if (Number(fresh[name]) is { } least && !(Number(old[name]) >= least)) found.Add($"{at}: {name} was {old[name]?.ToString() ?? "none"}, is {least}");
        }

        foreach (var name in (string[])["maximum", "exclusiveMaximum", "maxLength", "maxItems"])
        {
            if (Number(fresh[name]) is { } most && !(Number(old[name]) <= most)) found.Add($"{at}: {name} was {old[name]?.ToString() ?? "none"}, is {most}");
        }

        if (fresh["pattern"] is { } pattern && !JsonNode.DeepEquals(pattern, old["pattern"])) found.Add($"{at}: another pattern is asked for");
    }

    private static double? Number(JsonNode? node) => node is JsonValue value && value.TryGetValue(out double number) ? number : null;

    // Told apart by what they refer to, by the type that they are about, or by their place.
    private void Alternatives(string at, string kind, JsonObject old, JsonObject fresh, Direction direction)
    {
        var (was, now) = (Named(old[kind]), Named(fresh[kind]));
        foreach (var (name, schema) in was)
        {
            if (now.TryGetValue(name, out var same)) Compare($"{at}/{name}", schema, same, direction);
            else if (kind == "allOf" ? direction.HasFlag(Direction.Out) : direction.HasFlag(Direction.In)) found.Add($"{at}/{name}: is gone");
        }

        // What is asked of a type that the release did not have asks nothing of those that it had.
        var isNarrowed = kind == "allOf"
            ? now.Keys.Except(was.Keys).Any(name => TypeOf(now[name]) is null)
            : was.Count == 0 && now.Count > 0;
        if (direction.HasFlag(Direction.In) && isNarrowed) found.Add($"{at}: more is asked for");
    }

    private static Dictionary<string, JsonNode?> Named(JsonNode? list) => (list as JsonArray ?? [])
        .Select((schema, place) => (Name: Reference(schema)?.Split('/')[^1] ?? TypeOf(schema) ?? $"{place}", schema))
        .ToDictionary(each => each.Name, each => each.schema, StringComparer.Ordinal);

    // The one value of 'type' under whose condition a schema stands.
    private static string? TypeOf(JsonNode? schema) => (string?)schema?["if"]?["properties"]?["type"]?["const"];
}
