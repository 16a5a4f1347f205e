using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;

namespace FleetLight.PageParts.Designing;

/// <summary>Writes a design onto a sheet; <see cref="SheetReader"/> reads the same design again.</summary>
public static class SheetWriter
{
    /// <summary>The sheet of a design.</summary>
    public static DesignSheet Of(CircuitDesigned design)
    {
        ArgumentNullException.ThrowIfNull(design);
        return OfJson(JsonSerializer.SerializeToNode(design, WireJson.Strict)!.AsObject());
    }

    /// <summary>The sheet of a design as JSON, mistakes and all; what the contract does not know is left out.</summary>
    internal static DesignSheet OfJson(JsonObject data)
    {
        var key = 1;
        return new DesignSheet
        {
            Head = Row(0, data, SheetFields.Head),
            Driver = Row(0, data["driver"], SheetFields.Driver),
            Fittings = [.. Each(data["fittings"]).Select(each => Row(key++, each, SheetFields.Fitting))],
            Runs = [.. Each(data["runs"]).Select(each => Row(key++, each, SheetFields.Run))],
            NextKey = key,
        };
    }

    private static JsonArray Each(JsonNode? list) => list as JsonArray ?? [];

    private static SheetRow Row(int key, JsonNode? data, IReadOnlyList<SheetField> fields)
    {
        var row = new SheetRow(key, ImmutableDictionary<string, string>.Empty);
        foreach (var field in fields) row = row.With(field.Member, Text(Find(data, field.Member)));
        return row;
    }

    private static JsonNode? Find(JsonNode? found, string member)
    {
        foreach (var step in member.Split('.')) found = (found as JsonObject)?[step];
        return found;
    }

    private static string? Text(JsonNode? value) => value?.GetValueKind() switch
    {
        null or JsonValueKind.Null => null,
        JsonValueKind.True => "yes",
        JsonValueKind.False => "no",
        JsonValueKind.Number => value.Deserialize<double>().ToString("R", CultureInfo.InvariantCulture),
        JsonValueKind.String => value.GetValue<string>(),
        _ => value.ToJsonString(),
    };
}
