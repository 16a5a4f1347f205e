using FleetLight.Record.Csv;

namespace FleetLight.Record.Designs;

/// <summary>What a row of a file of designs is of.</summary>
public enum DesignFileKind
{
    /// <summary>A circuit and its driver.</summary>
    Circuit,

    /// <summary>A fitting.</summary>
    Fitting,

    /// <summary>A run of cable.</summary>
    Run,
}

/// <summary>A row of a file of designs as it stands there.</summary>
/// <param name="Number">Its number as a spreadsheet counts, from 1.</param>
/// <param name="Kind">What it is of.</param>
/// <param name="CircuitId">The circuit that it names; empty where it names none.</param>
/// <param name="Cells">What stands in its cells, by the member of the design that the column fills, for instance <c>tail.lengthMetres</c>.</param>
public sealed record DesignFileRow(int Number, DesignFileKind Kind, string CircuitId, IReadOnlyDictionary<string, string> Cells);

/// <summary>
/// The rows of a file of designs as they stand there, mistakes and all: for whoever mends them where they are.
/// <see cref="DesignReader"/> says what is wrong with them.
/// </summary>
public static class DesignFile
{
    /// <summary>The rows of which it can be told what they are of.</summary>
    public static IReadOnlyList<DesignFileRow> OfCsv(string text)
    {
        var csv = CsvText.Read(text);
        var rows = csv.Rows;
        if (rows.Count == 0) return [];
        var header = new Dictionary<int, DesignColumn>();
        for (var i = 0; i < rows[0].Cells.Count; i++)
            if (DesignColumns.Find(rows[0].Cells[i].Text).Column is { } column && !header.ContainsValue(column)) header[i] = column;
        return [.. rows.Skip(1).Select(row => Read(row, header)).OfType<DesignFileRow>()];
    }

    private static DesignFileRow? Read(CsvRow row, Dictionary<int, DesignColumn> header)
    {
        var texts = new Dictionary<DesignColumn, string>();
        foreach (var (at, column) in header)
            if (at < row.Cells.Count && row.Cells[at].Text is { Length: > 0 } text) texts[column] = CsvTable.Said(text);
        if (!Enum.TryParse<DesignFileKind>(texts.GetValueOrDefault(DesignColumns.Row), ignoreCase: true, out var kind) || !Enum.IsDefined(kind)) return null;
        var of = kind switch
        {
            DesignFileKind.Circuit => DesignRow.Circuit,
            DesignFileKind.Fitting => DesignRow.Fitting,
            _ => DesignRow.Run,
        };
        var cells = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var (column, text) in texts)
        {
            foreach (var (on, member) in column.Members)
                if (on == of) cells[Path(column, of, member)] = text;
        }

        return new DesignFileRow(row.Number, kind, texts.GetValueOrDefault(DesignColumns.Circuit) ?? "", cells);
    }

    // On the row of a fitting these three are of its tail.
    private static string Path(DesignColumn column, DesignRow row, string member) =>
        row == DesignRow.Fitting && (column == DesignColumns.Length || column == DesignColumns.Area || column == DesignColumns.Class) ? $"tail.{member}" : member;
}
