using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Views;
using FleetLight.Record.Designs;

namespace FleetLight.PageParts.Designing;

/// <summary>A circuit of a file, on a sheet: what is wrong with it stands where it was written.</summary>
/// <param name="CircuitId">The circuit.</param>
/// <param name="Name">What people call it.</param>
/// <param name="Sheet">Its sheet.</param>
public sealed record ImportedCircuit(string CircuitId, string? Name, DesignSheet Sheet);

/// <summary>What a file of designs holds.</summary>
/// <param name="Circuits">Its circuits, with mistakes or without, in the order of the file.</param>
/// <param name="Problems">Everything that is wrong with the file.</param>
public sealed record SheetImport(IReadOnlyList<ImportedCircuit> Circuits, IReadOnlyList<DesignProblem> Problems)
{
    /// <summary>Reads a file: CSV, or JSON where it begins as JSON does.</summary>
    public static SheetImport Of(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return text.AsSpan().TrimStart("\uFEFF \r\n\t") is ['{' or '[', ..] ? OfJson(text) : OfCsv(text);
    }

    private static SheetImport OfCsv(string text)
    {
        var sheets = new Dictionary<string, DesignSheet>(StringComparer.Ordinal);
        foreach (var row in DesignFile.OfCsv(text))
        {
            if (row.CircuitId.Length == 0) continue;
            sheets[row.CircuitId] = Put(sheets.GetValueOrDefault(row.CircuitId) ?? new DesignSheet(), row);
        }

        return new SheetImport([.. sheets.Select(pair => Named(pair.Key, pair.Value))], DesignReader.OfCsv(text).Problems);
    }

    private static DesignSheet Put(DesignSheet sheet, DesignFileRow row)
    {
        switch (row.Kind)
        {
            case DesignFileKind.Circuit:
                return sheet with { Head = Row(0, row, SheetFields.Head), Driver = Row(0, row, SheetFields.Driver) };
            case DesignFileKind.Fitting:
                return sheet with { Fittings = sheet.Fittings.Add(Row(sheet.NextKey, row, SheetFields.Fitting)), NextKey = sheet.NextKey + 1 };
            default:
                return sheet with { Runs = sheet.Runs.Add(Row(sheet.NextKey, row, SheetFields.Run)), NextKey = sheet.NextKey + 1 };
        }
    }

    private static SheetRow Row(int key, DesignFileRow row, IReadOnlyList<SheetField> fields) => new(
        key,
        fields.Where(field => row.Cells.ContainsKey(field.Member)).ToImmutableDictionary(field => field.Member, field => SheetReader.Tidied(field, row.Cells[field.Member])),
        row.Number);

    private static SheetImport OfJson(string text)
    {
        var problems = DesignJson.Read(Encoding.UTF8.GetBytes(text)).Problems;
        try
        {
            var root = JsonNode.Parse(text.TrimStart('\uFEFF'));
            IEnumerable<JsonNode?> all = root is JsonArray array ? array : [root];
            return new SheetImport(
                [.. all.OfType<JsonObject>().Select(SheetWriter.OfJson).Select(sheet => Named(sheet.Head["circuitId"], sheet))],
                problems);
        }
        catch (JsonException)
        {
            return new SheetImport([], problems);
        }
    }

    private static ImportedCircuit Named(string id, DesignSheet sheet) => new(id, sheet.Head["name"] is { Length: > 0 } name ? name : null, sheet);
}
