using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.PageParts.Drawings.Circuits;
using FleetLight.PageParts.Wording;

namespace FleetLight.PageParts.Drawings.Plans;

/// <summary>Reads the things of a site out of its as-built GeoJSON (RFC 7946), or out of their states. Unknown kinds are passed over.</summary>
public static class PlanReader
{
    /// <summary>The things of a GeoJSON FeatureCollection as the service gives it.</summary>
    public static IReadOnlyList<PlanThing> Read(JsonElement collection)
    {
        var things = new List<PlanThing>();
        foreach (var feature in collection.GetProperty("features").EnumerateArray())
        {
            if (!feature.TryGetProperty("properties", out var known) || known.ValueKind != JsonValueKind.Object) continue;
            var id = IdOf(feature);
            if (Text(known, "kind") is not { } kind || Kind(kind) is not { } planned) continue;
            things.Add(new PlanThing
            {
                Kind = planned,
                Id = planned == PlanKind.Driver ? Text(known, "circuitId") ?? id : id,
                CircuitId = Text(known, "circuitId"),
                Name = NameOf(planned, id, known),
                Says = SaysOf(planned, known),
                Positions = PositionsOf(feature),
                Ellipse = PlanPlaces.EllipseOf(known),
                Service = Word<DuctService>(known, "service"),
                Colour = Word<DuctColour>(known, "colour"),
                Verdict = Word<CircuitVerdict>(known, "verdict"),
            });
        }

        // A fitting without a verdict of its own has its circuit's.
        var verdicts = things.Where(thing => thing is { Kind: PlanKind.Driver, Verdict: not null }).ToLookup(thing => thing.Id, thing => thing.Verdict);
        return [
            .. things.Select(thing => thing is { Kind: PlanKind.Fitting, Verdict: null, CircuitId: { } circuit }
                ? thing with { Verdict = verdicts[circuit].FirstOrDefault() } : thing)
        ];
    }

    private static PlanKind? Kind(string kind) => kind switch
    {
        "driver" => PlanKind.Driver,
        "box" => PlanKind.Box,
        "fitting" => PlanKind.Fitting,
        "duct" => PlanKind.Duct,
        "cable" => PlanKind.Cable,
        "reference-point" => PlanKind.ReferencePoint,
        _ => null,
    };

    // Features are named kind:id.
    private static string IdOf(JsonElement feature)
    {
        var id = Text(feature, "id") ?? "";
        var colon = id.IndexOf(':', StringComparison.Ordinal);
        return colon < 0 ? id : id[(colon + 1)..];
    }

    private static string NameOf(PlanKind kind, string id, JsonElement known)
    {
        // The label of a driver says where it hangs, which several may share; it goes by its circuit.
        if (kind == PlanKind.Driver) return Text(known, "name") ?? CircuitNames.Shortened(id);
        var label = Text(known, "label") ?? (known.TryGetProperty("labels", out var labels) && labels.ValueKind == JsonValueKind.Object
            ? Text(labels, "near") ?? Text(labels, "far")
            : null);
        return label ?? (kind == PlanKind.ReferencePoint ? Text(known, "name") : null) ?? CircuitNames.Shortened(id);
    }

    private static string SaysOf(PlanKind kind, JsonElement known)
    {
        var says = new List<string>();
        switch (kind)
        {
            case PlanKind.Duct:
                Add(Word<DuctService>(known, "service") is { } service ? PlainWords.Of(service) : "What it is for is not recorded");
                Add(Word<DuctColour>(known, "colour") is { } colour ? $"recorded as {PlainWords.Of(colour)}" : null);
                Add(Measured(known, "boreMillimetres", "mm bore"));
                Add(Measured(known, "lengthMetres", "m long"));
                Add(Measured(known, "depthMillimetres", "mm deep"));
                Add(Measured(known, "fillPercent", "% filled", 0));
                Add(Counted(known, "cableIds", "cable", "no cable inside"));
                Add(known.TryGetProperty("stringInside", out var inside) && inside.ValueKind == JsonValueKind.True ? "a string inside" : null);
                break;
            case PlanKind.Cable:
                Add(Counted(known, "cores", "core", null));
                Add(Measured(known, "areaSquareMillimetres", "mm²"));
                Add(Measured(known, "lengthMetres", "m long"));
                Add(Counted(known, "ductIds", "duct", "in no duct"));
                break;
            case PlanKind.Box:
                Add(Word<BoxLie>(known, "lie") is { } lie ? PlainWords.Of(lie) : "Not described yet");
                Add(Counted(known, "joints", "joint", "no joint"));
                break;
            case PlanKind.Driver:
                Add(Word<DriveKind>(known, "drive") is { } drive ? PlainWords.Of(drive) : null);
                Add(Word<CircuitPhase>(known, "phase") is { } phase ? PlainWords.Of(phase) : null);
                Add(Word<CircuitVerdict>(known, "verdict") is { } verdict ? PlainWords.Of(verdict) : null);
                Add(Text(known, "label") is { } hangs ? $"where: {hangs}" : null);
                break;
            case PlanKind.ReferencePoint:
                Add("Tapes run from it");
                break;
            default:
                Add(Measured(known, "ratedWatts", "W"));
                Add(known.TryGetProperty("isFixed", out var at) ? at.ValueKind == JsonValueKind.True ? "fixed" : "not fixed yet" : null);
                break;
        }

        foreach (var text in PlanPlaces.SaysOf(known)) Add(text);
        return string.Join(", ", says);

        void Add(string? text)
        {
            if (text is not null) says.Add(text);
        }
    }

    private static string? Measured(JsonElement known, string name, string unit, int places = 2) =>
        known.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.Number ? $"{Figures.Plain(value.GetDouble(), places)} {unit}" : null;

    private static string? Counted(JsonElement known, string name, string one, string? none)
    {
        if (!known.TryGetProperty(name, out var list) || list.ValueKind != JsonValueKind.Array) return none;
        return list.GetArrayLength() switch { 0 => none, 1 => $"1 {one}", var many => $"{many} {one}s" };
    }

    private static string? Text(JsonElement element, string name) =>
        element.TryGetProperty(name, out var value) && value.ValueKind == JsonValueKind.String ? value.GetString() : null;

    private static T? Word<T>(JsonElement known, string name)
        where T : struct, Enum
    {
        if (!known.TryGetProperty(name, out var value) || value.ValueKind != JsonValueKind.String) return null;
        try
        {
            return value.Deserialize<T>(WireJson.Lenient);
        }
        catch (JsonException)
        {
            // A word of a newer service.
            return null;
        }
    }

    private static IReadOnlyList<(double Longitude, double Latitude)> PositionsOf(JsonElement feature)
    {
        if (!feature.TryGetProperty("geometry", out var geometry) || geometry.ValueKind != JsonValueKind.Object) return [];
        var coordinates = geometry.GetProperty("coordinates");
        return Text(geometry, "type") switch
        {
            "Point" => [Position(coordinates)],
            "LineString" => [.. coordinates.EnumerateArray().Select(Position)],
            _ => [],
        };
    }

    private static (double Longitude, double Latitude) Position(JsonElement position) => (position[0].GetDouble(), position[1].GetDouble());
}
