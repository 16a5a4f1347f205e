using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Alerts;

namespace FleetLight.Service.Hosting.Describing;

/// <summary>
/// What travels as events, as an AsyncAPI 3.0 document: facts that come in, the change feed, the stream, webhooks and subscriptions.
/// Its schemas are those of the OpenAPI document, so that the two cannot say different things.
/// </summary>
public static class AsyncApi
{
    /// <summary>Where it is served.</summary>
    public const string Path = "/asyncapi.json";

    private const string Schemas = "#/components/schemas/";
    private const string Json = "application/json";

    /// <summary>Makes it of the OpenAPI document.</summary>
    public static JsonObject Of(JsonObject openApi)
    {
        ArgumentNullException.ThrowIfNull(openApi);
        var all = openApi["components"]!["schemas"]!.AsObject();
        var messages = new JsonObject();
        string[] facts =
        [
            .. from each in all["Event"]!["oneOf"]!.AsArray()
               let schema = each!["$ref"]!.GetValue<string>()[Schemas.Length..]
               let type = all[schema]!["properties"]!["type"]!["const"]!.GetValue<string>()
               select Message(messages, type, schema, Envelope.SingleMediaType, all[schema]!["properties"]!["data"]!["description"]?.GetValue<string>() ?? type),
        ];
        Message(messages, "change", nameof(ChangeView), Json, "A thing changed: fetch it again.");
        Message(messages, "told", nameof(ToldEvent), Envelope.SingleMediaType, "A fact was recorded, an alert was raised or cleared, or a thing changed.");
        Message(messages, "alert", nameof(AlertMessage), Json, "An alert was raised or cleared.", signed: true);
        Message(messages, "told-signed", nameof(ToldEvent), Envelope.SingleMediaType, "The same, posted to an address and signed.", signed: true);

        return new JsonObject
        {
            ["asyncapi"] = "3.0.0",
            ["info"] = new JsonObject
            {
                ["title"] = "FleetLight events",
                ["version"] = openApi["info"]!["version"]!.DeepClone(),
                ["description"] = "What travels as events: facts that devices hand in, and what is told of them. /openapi/v1.json has the paths of all else.",
                ["license"] = openApi["info"]!["license"]?.DeepClone(),
                ["tags"] = new JsonArray(new JsonObject { ["name"] = "events" }),
            },
            ["defaultContentType"] = Json,
            ["channels"] = new JsonObject
            {
                ["facts"] = Channel("/v1/events", "Facts that devices hand in, by POST: one, or a batch as a JSON array.", facts),
                ["changes"] = Channel("/v1/changes", "The change feed, by GET; with Accept: text/event-stream as server-sent events named 'change'.", "change"),
                ["stream"] = Channel("/v1/stream", "All that is told, by GET; with Accept: text/event-stream as server-sent events named 'told'.", "told"),
                ["webhooks"] = Channel(null, "Posted to the address of a webhook (/v1/webhooks).", "alert"),
                ["subscriptions"] = Channel(null, "Posted to the address of a subscription (/v1/subscriptions), one after the other in order.", "told-signed"),
            },
            ["operations"] = new JsonObject
            {
                ["takeFacts"] = Operation("receive", "facts", "FleetLight takes facts in", "Each is answered for by itself; sent twice, it counts once.", "POST"),
                ["tellChanges"] = Operation("send", "changes", "FleetLight says which things changed", "Oldest first; whoever reads goes on after the last cursor.", "GET"),
                ["tellAll"] = Operation("send", "stream", "FleetLight tells facts, alerts and changes", "In order; whoever reads goes on after the last cursor.", "GET"),
                ["postAlerts"] = Operation("send", "webhooks", "FleetLight posts alerts", "Signed; tried again until taken, then parked.", "POST"),
                ["postAll"] = Operation(
                    "send", "subscriptions", "FleetLight posts facts, alerts and changes", "Signed and in order; tried again until taken, then parked.", "POST"),
            },
            ["components"] = new JsonObject { ["messages"] = messages, ["schemas"] = Used(all, messages) },
        };
    }

    private static string Message(JsonObject messages, string name, string schema, string mediaType, string says, bool signed = false)
    {
        var message = new JsonObject
        {
            ["name"] = name,
            ["title"] = schema,
            ["summary"] = says,
            ["contentType"] = mediaType,
            ["payload"] = new JsonObject { ["$ref"] = Schemas + schema },
        };
        if (signed) message["headers"] = Signature();
        messages[name] = message;
        return name;
    }

    private static JsonObject Signature() => new()
    {
        ["type"] = "object",
        ["required"] = new JsonArray("webhook-id", "webhook-timestamp", "webhook-signature"),
        ["properties"] = new JsonObject
        {
            ["webhook-id"] = Header("The message; the same on every attempt."),
            ["webhook-timestamp"] = Header("When this attempt was sent: seconds since 1970-01-01T00:00:00Z."),
            ["webhook-signature"] = Header("As Standard Webhooks describe; two with a space between while a secret is replaced."),
        },
    };

    private static JsonObject Header(string description) => new() { ["type"] = "string", ["description"] = description };

    private static JsonObject Channel(string? address, string description, params string[] messages) => new()
    {
        ["address"] = address,
        ["description"] = description,
        ["messages"] = new JsonObject(messages.Select(
            name => KeyValuePair.Create<string, JsonNode?>(name, new JsonObject { ["$ref"] = $"#/components/messages/{name}" }))),
    };

    private static JsonObject Operation(string action, string channel, string summary, string description, string method) => new()
    {
        ["action"] = action,
        ["channel"] = new JsonObject { ["$ref"] = $"#/channels/{channel}" },
        ["summary"] = summary,
        ["description"] = description,
        ["bindings"] = new JsonObject { ["http"] = new JsonObject { ["method"] = method, ["bindingVersion"] = "0.3.0" } },
    };

    // The schemas that the messages name, and all that these name.
    private static JsonObject Used(JsonObject all, JsonObject messages)
    {
        var used = new SortedSet<string>(StringComparer.Ordinal);
        var open = new Queue<JsonNode>([messages]);
        while (open.TryDequeue(out var node))
        {
            foreach (var reference in References(node))
            {
                if (used.Add(reference)) open.Enqueue(all[reference]!);
            }
        }

        return new JsonObject(used.Select(name => KeyValuePair.Create(name, all[name]?.DeepClone())));
    }

    private static IEnumerable<string> References(JsonNode? node) => node switch
    {
        JsonArray list => list.SelectMany(References),
        JsonObject members => members.SelectMany(member => member is { Key: "$ref", Value: JsonValue text } && text.GetValue<string>() is var name
            && name.StartsWith(Schemas, StringComparison.Ordinal) ? [name[Schemas.Length..]] : References(member.Value)),
        _ => [],
    };
}
