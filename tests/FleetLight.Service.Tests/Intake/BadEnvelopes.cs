using System.Text.Json.Nodes;

namespace FleetLight.Service.Tests.Intake;

/// <summary>Envelopes that CloudEvents 1.0 or FleetLight does not take.</summary>
internal static class BadEnvelopes
{
    public static IReadOnlyList<BadFact> All { get; } =
    [
        Without("specversion"),
        Set("an unknown specversion", "specversion", "2.0"),
        Set("a specversion that is a number", "specversion", 1.0),
        Without("id"),
        Set("an empty id", "id", ""),
        Set("an id that is a number", "id", 5),
        Set("an id of 129 characters", "id", new string('x', 129)),
        Set("an id with the character zero", "id", "a\0b"),
        Without("source"),
        Set("an empty source", "source", ""),
        Set("the source of another device", "source", "urn:device:of-somebody-else"),
        Set("a source that is a number", "source", 7),
        Set("the source with another case", "source", "URN:DEVICE:A"),
        Without("type"),
        Set("an unknown type", "type", "fleetlight.lamp.polished.v1"),
        Set("an unknown version", "type", "fleetlight.box.sealed.v2"),
        Set("a version of nothing", "type", ".v1"),
        Set("the type of another case", "type", "FleetLight.Box.Sealed.v1"),
        Set("an alert as if it were a fact", "type", "fleetlight.alert.cleared.v1"),
        Set("a very long type", "type", new string('t', 5000)),
        Set("an empty type", "type", ""),
        Set("a type that is null", "type", null),
        Without("time"),
        Set("a time that cannot be read", "time", "yesterday"),
        Set("a time without its zone", "time", "2026-03-02T08:00:00"),
        Set("a date alone", "time", "2026-03-02"),
        Set("a day that does not exist", "time", "2026-02-30T08:00:00Z"),
        Set("a time that is a number", "time", 1772438400),
        Set("a time before the first year", "time", "0001-01-01T00:00:00+14:00"),
        Set("a time after the last year", "time", "9999-12-31T23:59:59-14:00"),
        Without("data"),
        Set("data that is null", "data", null),
        Set("data that is a text", "data", "sealed"),
        Set("data that is an array", "data", new JsonArray(1, 2)),
        Set("data of another content type", "datacontenttype", "application/xml"),
        new("data in base64", device => device.Record(Some.BoxSealed()).Change(envelope =>
        {
            envelope["data_base64"] = "e30=";
            envelope.Remove("data");
        })),
        Set("an attribute that is an object", "crew", new JsonObject { ["name"] = "north" }),
        new("a member twice in the envelope", device => device.Record(Some.BoxSealed()).Replace("{\"specversion\"", "{\"id\":\"other\",\"specversion\"")),
        Literal("half a surrogate pair in the id", "id", "\"\\ud800\""),
        Literal("half a surrogate pair in the source", "source", "\"\\udc00\""),
        Literal("half a surrogate pair in the time", "time", "\"\\ud800\""),
        Literal("half a surrogate pair in the type", "type", "\"\\ud800\""),
        Literal("half a surrogate pair in an attribute nobody knows", "crew", "\"\\ud800\""),
        new("half a surrogate pair in a name", device => device.Record(Some.BoxSealed()).Replace("{\"specversion\"", "{\"\\ud800\":1,\"specversion\"")),
        Instead("a number instead of an event", "17"),
        Instead("a text instead of an event", "\"event\""),
        Instead("null instead of an event", "null"),
        Instead("an array instead of an event", "[]"),
        Instead("an empty object", "{}"),
    ];

    private static BadFact Without(string attribute) => new($"no {attribute}", device => device.Record(Some.BoxSealed()).Change(envelope => envelope.Remove(attribute)));

    private static BadFact Set(string name, string attribute, JsonNode? value) =>
        new(name, device => device.Record(Some.BoxSealed()).Change(envelope => envelope[attribute] = value?.DeepClone()));

    private static BadFact Literal(string name, string attribute, string literal) => new(name, device => device.Record(Some.BoxSealed())
        .Change(envelope => envelope[attribute] = "to-be-replaced").Replace("\"to-be-replaced\"", literal));

    private static BadFact Instead(string name, string text) => new(name, device => device.Record(Some.BoxSealed()) with { Text = text });
}
