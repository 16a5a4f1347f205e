using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;

namespace FleetLight.PageParts.Fleet;

/// <summary>What is wrong with an event, where and what mends it.</summary>
/// <param name="Field">Path of the member at fault, such as <c>data.lengthMetres</c>; none where the whole is at fault.</param>
/// <param name="Detail">What is wrong.</param>
/// <param name="Remedy">What mends it.</param>
public sealed record EventFault(string? Field, string Detail, string? Remedy);

/// <summary>
/// Mends the text of an event that was refused. What the data must be is asked from the same check as the service's; the envelope
/// is looked at so far as a person can get it wrong, the service has the last word.
/// </summary>
public static class FactMending
{
    private static readonly JsonSerializerOptions Readable = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };
    private static readonly JsonDocumentOptions Reading = new() { MaxDepth = 32, AllowDuplicateProperties = false };

    /// <summary>The text with a line a member; as it is where it is no JSON.</summary>
    public static string Spread(string text)
    {
        try
        {
            return JsonNode.Parse(text, documentOptions: Reading)?.ToJsonString(Readable) ?? text;
        }
        catch (Exception bad) when (bad is JsonException or ArgumentException or InvalidOperationException)
        {
            return text;
        }
    }

    /// <summary>The member at a path, as JSON; none where there is none.</summary>
    public static string? Member(string text, string? path) => path is null ? null : Walk(Parse(text), path, out _, out _)?.ToJsonString(Readable);

    /// <summary>The text with another value at a path: JSON where the value reads as such, else a text. None where the path leads nowhere.</summary>
    public static string? With(string text, string path, string value)
    {
        var root = Parse(text);
        Walk(root, path, out var parent, out var last);
        JsonNode? given;
        try
        {
            given = JsonNode.Parse(value, documentOptions: Reading);
        }
        catch (JsonException)
        {
            given = JsonValue.Create(value);
        }

        switch (parent)
        {
            case JsonObject there:
                there[last] = given;
                break;
            case JsonArray list when int.TryParse(last, out var index) && index >= 0 && index < list.Count:
                list[index] = given;
                break;
            default:
                return null;
        }

        return root!.ToJsonString(Readable);
    }

    /// <summary>What is wrong with an event; none where nothing is found.</summary>
    /// <param name="text">The event.</param>
    /// <param name="source">The device that it has to speak for.</param>
    public static EventFault? Check(string text, string source)
    {
        JsonNode? root;
        try
        {
            root = JsonNode.Parse(text, documentOptions: Reading);
        }
        catch (JsonException bad)
        {
            return new EventFault(null, $"This is no JSON: line {bad.LineNumber + 1} cannot be read.", "Look for a comma, a quote or a bracket that is missing or too many.");
        }

        if (root is not JsonObject envelope) return new EventFault(null, "An event is a JSON object.", "Begin it with '{' and end it with '}'.");
        if (Text(envelope, "source") != source) return new EventFault("source", $"The fact was sent by '{source}'.", $"Leave the source '{source}'.");
        if (Text(envelope, "type") is not { } type || FactTypes.Find(type) is not { } record)
            return new EventFault("type", "No fact has this type.", "Use a type that the contract lists.");
        if (!DateTimeOffset.TryParse(Text(envelope, "time"), System.Globalization.CultureInfo.InvariantCulture, out _))
            return new EventFault("time", "The time cannot be read.", "Give it as RFC 3339 with its offset, for instance 2026-05-04T10:30:00+02:00.");
        if (envelope["data"] is not JsonObject data) return new EventFault("data", "The event has no data.", "Give the fact's data as a JSON object.");
        try
        {
            var fact = (IFact)data.Deserialize(record, WireJson.Strict)!;
            return FactCheck.Check(fact) is { Count: > 0 } found ? new EventFault(found[0].Field, found[0].Detail, found[0].Remedy) : null;
        }
        catch (JsonException bad)
        {
            var fault = JsonFault.Of(bad, FactCheck.Root);
            return new EventFault(fault.Field, fault.Detail, fault.Remedy);
        }
    }

    private static JsonNode? Parse(string text)
    {
        try
        {
            return JsonNode.Parse(text, documentOptions: Reading);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    // data.cores[1].use: names parted by dots, places in lists in brackets.
    private static JsonNode? Walk(JsonNode? root, string path, out JsonNode? parent, out string last)
    {
        (parent, last) = (null, "");
        var at = root;
        foreach (var part in path.Replace("[", ".", StringComparison.Ordinal).Replace("]", "", StringComparison.Ordinal).Split('.', StringSplitOptions.RemoveEmptyEntries))
        {
            (parent, last) = (at, part);
            at = at switch
            {
                JsonObject there => there[part],
                JsonArray list when int.TryParse(part, out var index) && index >= 0 && index < list.Count => list[index],
                _ => null,
            };
            if (parent is not (JsonObject or JsonArray)) return null;
        }

        return at;
    }

    private static string? Text(JsonObject envelope, string name) => envelope[name] is JsonValue value && value.TryGetValue<string>(out var text) ? text : null;
}
