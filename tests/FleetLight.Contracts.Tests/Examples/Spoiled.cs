using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace FleetLight.Contracts.Tests.Examples;

/// <summary>Data that is wrong in exactly one way.</summary>
/// <param name="How">What was done to it.</param>
/// <param name="Data">The data.</param>
internal sealed record Spoiled(string How, JsonElement Data)
{
    /// <summary>Every way in which a schema lets sound data be spoiled at one place.</summary>
    public static IReadOnlyList<Spoiled> Variants(JsonObject schema, JsonElement sound)
    {
        var found = new List<Spoiled>();
        Walk(new Place("", () => JsonNode.Parse(sound.GetRawText())!, whole => whole), schema, found);
        return found;
    }

    // A place in the data: a copy of the whole, and the way from the whole to the place.
    private sealed record Place(string Path, Func<JsonNode> Copy, Func<JsonNode, JsonNode> Find)
    {
        public Place Member(string name) => new($"{Path}.{name}", Copy, whole => Find(whole)[name]!);

        public Place First() => new($"{Path}[0]", Copy, whole => Find(whole)[0]!);

        public JsonNode Here() => Find(Copy());

        public Spoiled With(string how, Action<JsonNode> change)
        {
            var whole = Copy();
            change(Find(whole));
            return new($"{Path}: {how}", JsonSerializer.SerializeToElement(whole));
        }
    }

    private static void Walk(Place place, JsonObject schema, List<Spoiled> found)
    {
        if (schema["properties"] is JsonObject properties) Members(place, schema, properties, found);
        else if (schema["items"] is JsonObject items && place.Here() is JsonArray { Count: > 0 }) Walk(place.First(), items, found);
    }

    private static void Members(Place place, JsonObject schema, JsonObject properties, List<Spoiled> found)
    {
        found.Add(place.With("a member that nobody knows", owner => owner["surplus"] = 1));
        foreach (var required in (schema["required"] as JsonArray ?? []).Select(each => each!.GetValue<string>()))
            found.Add(place.With($"{required} missing", owner => owner.AsObject().Remove(required)));
        var here = place.Here().AsObject();
        foreach (var (name, node) in properties)
        {
            var member = node!.AsObject();
            foreach (var (how, value) in BadValues(member))
                found.Add(place.With($"{name} {how}", owner => owner[name] = value?.DeepClone()));
            if (here[name] is null) continue;
            if (here[name] is JsonArray) Lengths(place, name, member, found);
            Walk(place.Member(name), member, found);
        }
    }

    private static IEnumerable<(string How, JsonNode? Value)> BadValues(JsonObject schema)
    {
        var types = schema["type"] switch
        {
            JsonArray several => several.Select(each => each!.GetValue<string>()).ToArray(),
            JsonValue one => [one.GetValue<string>()],
            _ => [],
        };
        if (types.Length == 0) yield break;
        if (!types.Contains("null")) yield return ("null", null);
        yield return ("of another kind", types[0] == "string" ? 7 : "seven");
        if (schema["minimum"] is { } least) yield return ("too small", Decimal(least) - 1);
        if (schema["maximum"] is { } most) yield return ("too great", Decimal(most) + 1);
        if (schema["maxLength"] is { } longest) yield return ("too long", new string('x', longest.GetValue<int>() + 1));
        if (schema["pattern"] is not null) yield return ("blank", "  ");
        if (schema["enum"] is not null || schema["const"] is not null) yield return ("no such word", "no-such-word");
        if (types[0] == "integer") yield return ("a fraction", 1.5m);
    }

    private static void Lengths(Place place, string name, JsonObject schema, List<Spoiled> found)
    {
        if (schema["minItems"] is { } least && least.GetValue<int>() > 0)
            found.Add(place.With($"{name} too short", owner => owner[name] = Repeat(owner[name]!.AsArray(), least.GetValue<int>() - 1)));
        if (schema["maxItems"] is { } most && place.Here()[name]!.AsArray().Count > 0)
            found.Add(place.With($"{name} too long", owner => owner[name] = Repeat(owner[name]!.AsArray(), most.GetValue<int>() + 1)));
    }

    private static JsonArray Repeat(JsonArray list, int count) =>
        [.. Enumerable.Range(0, count).Select(index => list[index % list.Count]!.DeepClone())];

    private static decimal Decimal(JsonNode number) => decimal.Parse(number.ToJsonString(), NumberStyles.Float, CultureInfo.InvariantCulture);
}
