using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.PageParts.Drawings.Plans;

namespace FleetLight.PageParts.SitePages;

/// <summary>What is in the ground of a site, as its as-built collection says.</summary>
public sealed record AsBuiltSite
{
    /// <summary>Its ducts.</summary>
    public IReadOnlyList<DuctView> Ducts { get; init; } = [];

    /// <summary>Its cables.</summary>
    public IReadOnlyList<CableView> Cables { get; init; } = [];

    /// <summary>Its boxes.</summary>
    public IReadOnlyList<BoxView> Boxes { get; init; } = [];

    /// <summary>All of it with drivers and fittings, as the plan draws it.</summary>
    public IReadOnlyList<PlanThing> Things { get; init; } = [];

    /// <summary>Number of its fittings, no unit.</summary>
    public int Fittings => Things.Count(thing => thing.Kind == PlanKind.Fitting);

    /// <summary>Reads the GeoJSON collection (RFC 7946) of <c>/v1/sites/{id}/as-built</c>. What it does not know is passed over.</summary>
    public static AsBuiltSite Of(JsonElement collection)
    {
        var (ducts, cables, boxes) = (new List<DuctView>(), new List<CableView>(), new List<BoxView>());
        foreach (var feature in collection.GetProperty("features").EnumerateArray())
        {
            var properties = feature.GetProperty("properties");
            switch (properties.GetProperty("kind").GetString())
            {
                case "duct":
                    ducts.Add(View<DuctView>(feature, "route", "pluggedEnds", "cableIds"));
                    break;
                case "cable":
                    cables.Add(View<CableView>(feature, null, "ductIds", "cores"));
                    break;
                case "box":
                    boxes.Add(BoxOf(feature));
                    break;
            }
        }

        return new AsBuiltSite { Ducts = ducts, Cables = cables, Boxes = boxes, Things = PlanReader.Read(collection) };
    }

    private static BoxView BoxOf(JsonElement feature) => View<BoxView>(feature, "position", "joints");

    // The members of a feature are those of the thing's state; what a state has besides is empty here.
    private static T View<T>(JsonElement feature, string? geometryAs, params ReadOnlySpan<string> lists) where T : ThingView
    {
        var data = JsonNode.Parse(feature.GetProperty("properties").GetRawText())!.AsObject();
        data.Remove("kind");
        data["id"] = IdOf(feature);
        foreach (var list in (ReadOnlySpan<string>)["waitingFor", "contradictions", "findings", "facts"]) data[list] ??= new JsonArray();
        foreach (var list in lists) data[list] ??= new JsonArray();
        if (geometryAs is not null && Geometry(feature) is { } geometry) data[geometryAs] = geometry;
        return data.Deserialize<T>(WireJson.Lenient)!;
    }

    private static JsonNode? Geometry(JsonElement feature) =>
        feature.TryGetProperty("geometry", out var geometry) && geometry.ValueKind == JsonValueKind.Object ? JsonNode.Parse(geometry.GetRawText()) : null;

    // kind:id
    private static string IdOf(JsonElement feature)
    {
        var id = feature.GetProperty("id").GetString()!;
        return id[(id.IndexOf(':', StringComparison.Ordinal) + 1)..];
    }
}
