using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Files;

namespace FleetLight.Record.OpenPoints;

/// <summary>Makes the facts that take points off the list. A member without a value is left out.</summary>
internal static class Ticks
{
    public static TickOff Plugged(string site, string duct, RunEnd end) =>
        Of<DuctPlugged>("Plugged", [], ("siteId", site), ("ductId", duct), ("end", Words.Of(end)));

    public static TickOff Left(string site, string duct, StringMethod method, string says) =>
        Of<StringLeft>(says, [], ("siteId", site), ("ductId", duct), ("method", Words.Of(method)));

    public static TickOff DuctLabelled(string site, string duct, RunEnd end, string label) => Of<DuctLabelled>(
        $"Labelled {label}", [], ("siteId", site), ("ductId", duct), ("label", label), ("end", Words.Of(end)));

    public static TickOff CableLabelled(string site, string cable, RunEnd end, string label) => Of<CableLabelled>(
        $"Labelled {label}", [], ("siteId", site), ("cableId", cable), ("label", label), ("end", Words.Of(end)));

    public static TickOff Sleeved(string site, string cable, string core, RunEnd end, CorePolarity polarity) => Of<CoreSleeved>(
        $"Sleeved {Said(polarity)}", [],
        ("siteId", site), ("cableId", cable), ("core", core), ("polarity", Words.Of(polarity)), ("end", Words.Of(end)));

    public static TickOff Tested(string site, string circuit, TestKind kind, bool mainsSide)
    {
        (string Says, string[] Asks) asked = kind switch
        {
            TestKind.InsulationResistance => ("Tested", ["nominalVolts", "megohms"]),
            TestKind.Continuity => ("Tested", ["ohms"]),
            TestKind.Polarity => ("Tested, right", []),
            _ => ("Tested", ["ratedResidualMilliamps", "currentMultiple", "tripMilliseconds"]),
        };
        return Of<TestMade>(
            asked.Says, asked.Asks, ("siteId", site), ("circuitId", circuit), ("test", Words.Of(kind)), ("mainsSide", mainsSide),
            ("polarityRight", kind == TestKind.Polarity ? true : null));
    }

    public static TickOff Read(string site, string circuit, ReadingPlaceKind place, string? placeId, ReadingQuantity quantity) => Of<ReadingTaken>(
        "Read", ["value"],
        ("siteId", site), ("circuitId", circuit), ("place", Words.Of(place)), ("placeId", placeId), ("quantity", Words.Of(quantity)));

    /// <summary>A fact with those members.</summary>
    public static TickOff Of<T>(string says, string[] asks, params ReadOnlySpan<(string Name, JsonNode? Value)> members)
        where T : IFact
    {
        var data = new JsonObject();
        foreach (var (name, value) in members)
            if (value is not null) data[name] = value;
        // Text and back: the one way that needs no knowledge of types at run time, which a browser's build trims.
        using var text = JsonDocument.Parse(data.ToJsonString());
        return new TickOff { Says = says, Type = FactTypes.NameOf(typeof(T)), Data = text.RootElement.Clone(), Asks = asks };
    }

    /// <summary>A record of the contract as a member.</summary>
    public static JsonNode? Node<T>(T? value)
        where T : class => value is null ? null : JsonSerializer.SerializeToNode(value, WireJson.Lenient);

    private static string Said(CorePolarity polarity) => polarity switch
    {
        CorePolarity.Positive => "positive",
        CorePolarity.Negative => "negative",
        _ => "as a series link",
    };
}
