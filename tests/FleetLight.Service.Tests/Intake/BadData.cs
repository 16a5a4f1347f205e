using System.Text.Json.Nodes;

namespace FleetLight.Service.Tests.Intake;

/// <summary>Data that is not as the type of its fact asks.</summary>
internal static class BadData
{
    public static IReadOnlyList<BadFact> All { get; } =
    [
        Box("empty data", data => data.Clear()),
        Box("a missing member", data => data.Remove("lie")),
        Box("two missing members", data =>
        {
            data.Remove("lie");
            data.Remove("entry");
        }),
        Box("a required member that is null", data => data["lie"] = null),
        Box("a required text that is null", data => data["siteId"] = null),
        Box("a number where a text is asked for", data => data["label"] = 4),
        Box("a text where a truth value is asked for", data => data["gelFilled"] = "yes"),
        Box("a number where a truth value is asked for", data => data["gelFilled"] = 1),
        Box("a word that is none of those taken", data => data["lie"] = "upside-down"),
        Box("a number for a word", data => data["lie"] = 1),
        Box("an unknown member", data => data["paint"] = "green"),
        Box("a member of another case", data =>
        {
            data["SiteId"] = data["siteId"]!.DeepClone();
            data.Remove("siteId");
        }),
        Box("an array where an object is asked for", data => data["position"] = new JsonArray(1, 2)),
        Box("an object where a text is asked for", data => data["siteId"] = new JsonObject()),
        Box("an unknown member deeper down", data => data["position"]!["altitude"] = 4),
        Box("a missing member deeper down", data => data["position"]!.AsObject().Remove("coordinates")),
        Box("a point of another type", data => data["position"]!["type"] = "Polygon"),
        Box("a point of one number", data => data["position"]!["coordinates"] = new JsonArray(1)),
        Box("a point of four numbers", data => data["position"]!["coordinates"] = new JsonArray(1, 2, 3, 4)),
        new("a member twice", device => device.Record(Some.BoxSealed()).Replace("\"boxId\":\"box-1\"", "\"boxId\":\"box-1\",\"boxId\":\"box-2\"")),
        Circuit("an object where an array is asked for", data => data["fittings"] = new JsonObject()),
        Circuit("a list without a member", data => data["fittings"] = new JsonArray()),
        Circuit("a list with too many members", data => data["fittings"] = new JsonArray(
            [.. Enumerable.Range(0, 201).Select(number => new JsonObject { ["fittingId"] = $"f{number}", ["ratedWatts"] = 1 })])),
        Circuit("null in a list", data => data["fittings"]!.AsArray().Add(null)),
        Circuit("a missing member in a list", data => data["fittings"]![1]!.AsObject().Remove("ratedWatts")),
        Circuit("an unknown member in a list", data => data["runs"]![0]!["via"] = "pond"),
        Circuit("a value out of range in a list", data => data["runs"]![0]!["lengthMetres"] = 5001),
        Circuit("several values out of range", data =>
        {
            data["fittings"]![0]!["ratedWatts"] = 0;
            data["fittings"]![1]!["ratedWatts"] = 501;
            data["runs"]![0]!["areaSquareMillimetres"] = 0.1;
        }),
        new("a route of one position", device => device.Record(Some.DuctLaid())
            .ChangeData(data => data["route"]!["coordinates"] = new JsonArray(new JsonArray(1, 2)))),
        new("a route with a position of null", device => device.Record(Some.DuctLaid())
            .ChangeData(data => data["route"]!["coordinates"]!.AsArray().Add(null))),
        new("data nested 100 deep", device => device.Record(Some.BoxSealed())
            .Replace("\"label\":\"B1\"", $"\"label\":{new string('[', 100)}{new string(']', 100)}")),
        new("data nested 20,000 deep", device => device.Record(Some.BoxSealed())
            .Replace("\"label\":\"B1\"", $"\"label\":{new string('[', 20_000)}{new string(']', 20_000)}")),
    ];

    private static BadFact Box(string name, Action<JsonObject> spoil) => new(name, device => device.Record(Some.BoxSealed()).ChangeData(spoil));

    private static BadFact Circuit(string name, Action<JsonObject> spoil) => new(name, device => device.Record(Some.CircuitDesigned()).ChangeData(spoil));
}
