using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.Json.Nodes;

namespace FleetLight.PageParts.Designing;

/// <summary>A sheet that was not saved yet, as the browser keeps it until it is. Pure.</summary>
/// <param name="Sheet">The sheet.</param>
/// <param name="Began">The sheet as it was opened, as text: whether the record says something else by now is told by it.</param>
/// <param name="At">When it was written last.</param>
public sealed record SheetDraft(DesignSheet Sheet, string Began, DateTimeOffset At)
{
    /// <summary>A draft as text.</summary>
    public static string Write(DesignSheet sheet, DesignSheet began, DateTimeOffset at) => new JsonObject
    {
        ["sheet"] = Json(sheet),
        ["began"] = Text(began),
        ["at"] = at.ToString("O", CultureInfo.InvariantCulture),
    }.ToJsonString();

    /// <summary>What a sheet says, as text that two sheets which say the same have alike.</summary>
    public static string Text(DesignSheet sheet) => Json(sheet).ToJsonString();

    /// <summary>A draft out of its text; none where it is none, or of another version.</summary>
    public static SheetDraft? Read(string? text)
    {
        if (text is null) return null;
        try
        {
            if (JsonNode.Parse(text) is not JsonObject kept || kept["sheet"] is not JsonObject sheet) return null;
            var key = 0;
            ImmutableList<SheetRow> Rows(string name) => [.. (sheet[name] as JsonArray ?? throw new FormatException()).Select(row => Row(++key, row))];
            var read = new DesignSheet
            {
                Head = Row(0, sheet["head"]),
                Driver = Row(0, sheet["driver"]),
                Fittings = Rows("fittings"),
                Runs = Rows("runs"),
            };
            return new SheetDraft(
                read with { NextKey = key + 1 }, TextOf(kept["began"]), DateTimeOffset.Parse(TextOf(kept["at"]), CultureInfo.InvariantCulture));
        }
        catch (Exception unreadable) when (unreadable is JsonException or InvalidOperationException or FormatException)
        {
            return null;
        }
    }

    private static JsonObject Json(DesignSheet sheet) => new()
    {
        ["head"] = Json(sheet.Head),
        ["driver"] = Json(sheet.Driver),
        ["fittings"] = new JsonArray([.. sheet.Fittings.Select(Json)]),
        ["runs"] = new JsonArray([.. sheet.Runs.Select(Json)]),
    };

    private static JsonObject Json(SheetRow row) =>
        new(row.Cells.OrderBy(cell => cell.Key, StringComparer.Ordinal).Select(cell => KeyValuePair.Create(cell.Key, (JsonNode?)JsonValue.Create(cell.Value))));

    private static SheetRow Row(int key, JsonNode? cells) => cells is JsonObject known
        ? new(key, known.ToImmutableDictionary(cell => cell.Key, cell => TextOf(cell.Value), StringComparer.Ordinal))
        : throw new FormatException();

    private static string TextOf(JsonNode? node) => node?.GetValue<string>() ?? throw new FormatException();
}
