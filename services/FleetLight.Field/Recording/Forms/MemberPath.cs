using System.Text.Json.Nodes;

namespace FleetLight.Field.Recording.Forms;

/// <summary>A member of a fact's data, or a part within one: <c>lengthMetres</c>, <c>offset.alongMetres</c>, <c>tapes[0].from</c>. Pure.</summary>
internal static class MemberPath
{
    /// <summary>What stands there; none where nothing does.</summary>
    public static JsonNode? Read(JsonObject data, string path)
    {
        JsonNode? at = data;
        foreach (var part in Parts(path)) at = Step(at, part);
        return at;
    }

    /// <summary>Sets what stands there; nothing takes it out, and with the last part the member around it goes.</summary>
    public static void Write(JsonObject data, string path, JsonNode? value)
    {
        var parts = Parts(path);
        if (parts is [var member])
        {
            data[member] = value;
            return;
        }

        JsonNode around = data;
        foreach (var part in parts[..^1])
        {
            var next = Step(around, part);
            if (next is null && around is JsonObject there) there[part] = next = new JsonObject();
            if (next is null) return;
            around = next;
        }

        if (around is not JsonObject whole) return;
        whole.Remove(parts[^1]);
        if (value is not null) whole[parts[^1]] = value;
        // A list keeps its place: an empty row is one that is being filled in.
        else if (whole.Count == 0 && whole.Parent is JsonObject) Write(data, string.Join('.', parts[..^1]), null);
    }

    private static string[] Parts(string path) => path.Replace("[", ".", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal).Split('.');

    private static JsonNode? Step(JsonNode? at, string part) => at switch
    {
        JsonObject there => there[part],
        JsonArray list when int.TryParse(part, out var index) && index >= 0 && index < list.Count => list[index],
        _ => null,
    };
}
