using System.Text.RegularExpressions;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Checks;
using FleetLight.Record.Csv;

namespace FleetLight.Record.Designs;

/// <summary>Reads designs from a table. All mistakes of a file are named at once; a circuit with one is not among the designs.</summary>
public sealed partial class DesignReader
{
    /// <summary>Most mistakes that are named, a count: more than anybody mends before reading the file again.</summary>
    public const int MostProblems = 1000;

    private static readonly string UseThese = $"Use the columns {string.Join(", ", DesignColumns.All.Select(one => one.Header))}; take this one out.";

    private readonly List<DesignProblem> problems = [];
    private readonly Dictionary<string, int> places = new(StringComparer.Ordinal);
    private readonly Dictionary<DesignColumn, int> header = [];
    private readonly CsvText csv;

    private DesignReader(CsvText csv) => this.csv = csv;

    /// <summary>What a file says, as text.</summary>
    public static DesignsRead OfCsv(string text) => new DesignReader(CsvText.Read(text)).Read();

    /// <summary>What a file says, as bytes.</summary>
    public static DesignsRead OfCsv(ReadOnlySpan<byte> bytes) => new DesignReader(CsvText.Read(bytes)).Read();

    private DesignsRead Read()
    {
        foreach (var fault in csv.Faults)
        {
            problems.Add(new DesignProblem
            {
                Row = fault.Row,
                Column = HeaderText(fault.Column - 1),
                Detail = fault.Detail,
                Remedy = "Mend the quotes of this cell; the cells after it may be read wrong until then.",
            });
        }

        var designs = csv.Rows.Count == 0 ? Nothing() : ReadCircuits();
        var named = problems.OrderBy(problem => problem.Row ?? 0).ThenBy(ColumnOf).ThenBy(problem => problem.Detail, StringComparer.Ordinal).Take(MostProblems);
        if (problems.Count > MostProblems)
        {
            named = named.Append(new DesignProblem
            {
                Detail = $"{problems.Count - MostProblems} more mistakes are not named.",
                Remedy = "Mend these first, or look whether the file is the right one, and read it again.",
            });
        }

        return new DesignsRead { Designs = designs, Problems = [.. named] };
    }

    private List<CircuitDesigned> Nothing()
    {
        problems.Add(new DesignProblem { Detail = "The file has no row.", Remedy = "Send a header and a row for each circuit, fitting and run." });
        return [];
    }

    private List<CircuitDesigned> ReadCircuits()
    {
        ReadHeader();
        var circuits = new Dictionary<string, CircuitRows>(StringComparer.Ordinal);
        var takesDecimalComma = csv.Separator != ',' && HasDecimalComma();
        foreach (var row in csv.Rows.Skip(1))
        {
            if (KindOf(row) is not { } kind) continue;
            var cells = new DesignCells(row, kind, header, takesDecimalComma, problems);
            SayBeyondHeader(row);
            cells.CheckFilled();
            if (cells.CircuitId.Length == 0) continue;
            if (!circuits.TryGetValue(cells.CircuitId, out var circuit)) circuits[cells.CircuitId] = circuit = new();
            circuit.Add(kind, cells);
        }

        if (csv.Rows.Count == 1)
            problems.Add(new DesignProblem { Row = csv.Rows[0].Number, Detail = "There is nothing below the header.", Remedy = "Add a row for each circuit, fitting and run." });
        return [.. circuits.Values.Select(Read).OfType<CircuitDesigned>()];
    }

    private void ReadHeader()
    {
        var row = csv.Rows[0];
        for (var i = 0; i < row.Cells.Count; i++)
        {
            var text = row.Cells[i].Text;
            if (text.Length == 0) continue;
            var (column, isUnitRight) = DesignColumns.Find(text);
            text = DesignCells.Short(text);
            places.TryAdd(text, i);
            if (column is not null) places.TryAdd(column.Header, i);
            if (column is null)
                SayOfHeader(text, "There is no such column.", UseThese);
            else if (!header.TryAdd(column, i))
                SayOfHeader(text, "The column stands there twice.", "Take one of them out.");
            else if (!isUnitRight)
                SayOfHeader(text, "The unit is not the one that is taken here.", $"Give the numbers so that the header reads '{column.Header}'.");
        }

        foreach (var column in DesignColumns.All)
            if (column.Needed != DesignRow.None && !header.ContainsKey(column))
                SayOfHeader(column.Header, "The column is missing.", "Add it.");

        void SayOfHeader(string name, string detail, string remedy) =>
            problems.Add(new DesignProblem { Row = row.Number, Column = name, Detail = detail, Remedy = remedy });
    }

    private DesignRow? KindOf(CsvRow row)
    {
        var text = header.TryGetValue(DesignColumns.Row, out var at) && at < row.Cells.Count ? row.Cells[at].Text : "";
        foreach (var kind in (ReadOnlySpan<DesignRow>)[DesignRow.Circuit, DesignRow.Fitting, DesignRow.Run])
            if (string.Equals(Files.Words.Of(kind), text, StringComparison.OrdinalIgnoreCase)) return kind;
        if (header.ContainsKey(DesignColumns.Row))
        {
            problems.Add(new DesignProblem
            {
                Row = row.Number,
                Column = DesignColumns.Row.Header,
                Detail = text.Length == 0 ? "It does not say what the row is of." : $"'{DesignCells.Short(text)}' is no kind of row.",
                Remedy = "Use circuit, fitting or run.",
            });
        }

        return null;
    }

    private void SayBeyondHeader(CsvRow row)
    {
        for (var i = csv.Rows[0].Cells.Count; i < row.Cells.Count; i++)
        {
            if (row.Cells[i].Text.Length == 0) continue;
            problems.Add(new DesignProblem
            {
                Row = row.Number,
                Detail = $"Cell {i + 1} stands beyond the last column of the header.",
                Remedy = "Put a text that holds the separator in quotes, or take the cell out.",
            });
        }
    }

    // One number with a decimal comma tells how the numbers of the file are written. Only columns of numbers are looked at.
    private bool HasDecimalComma() => csv.Rows.Skip(1).Any(row => header.Any(pair =>
        (pair.Key.Unit is not null || pair.Key == DesignColumns.Conductors) && pair.Value < row.Cells.Count
        && row.Cells[pair.Value].Text.Contains(',', StringComparison.Ordinal)));

    private CircuitDesigned? Read(CircuitRows rows)
    {
        var before = problems.Count;
        if (rows.Circuits.Count == 0)
        {
            problems.Add(new DesignProblem
            {
                Row = rows.First.Number,
                Column = DesignColumns.Circuit.Header,
                CircuitId = rows.First.CircuitId,
                Detail = $"No row of kind circuit says what circuit {rows.First.CircuitId} is.",
                Remedy = "Add that row, or mend the id of the circuit here.",
            });
            return null;
        }

        foreach (var again in rows.Circuits.Skip(1))
        {
            again.Say(
                DesignColumns.Circuit, $"Circuit {again.CircuitId} has a row of kind circuit already, row {rows.Circuits[0].Number}.",
                "Keep one, or give each circuit its own id.");
        }

        if (rows.Fittings.Count == 0)
            rows.Circuits[0].Say(DesignColumns.Circuit, "The circuit has no fitting.", "Add a row for each of its fittings.");
        var design = DesignMaker.Make(rows);
        foreach (var wrong in DesignCheck.All(design)) Say(rows, wrong);
        return rows.IsAnyWrong || problems.Count > before ? null : design;
    }

    private static void Say(CircuitRows rows, FactProblem wrong)
    {
        var path = PartOfDesign().Match(wrong.Field);
        var member = wrong.Field[(wrong.Field.LastIndexOf('.') + 1)..];
        var index = path.Groups["index"].Success ? int.Parse(path.Groups["index"].Value, System.Globalization.CultureInfo.InvariantCulture) : -1;
        var (kind, cells) = path.Groups["list"].Value switch
        {
            "fittings" when index >= 0 => (DesignRow.Fitting, rows.Fittings[index]),
            "runs" when index >= 0 => (DesignRow.Run, rows.Runs[index]),
            _ => (DesignRow.Circuit, rows.Circuits[0]),
        };
        // What was said of the cells is not said again of what was put in their place.
        if (kind == DesignRow.Circuit && cells.IsWrong(DesignColumns.Drive) && member is "ratedMilliamps" or "ratedVolts") return;
        if (kind == DesignRow.Run && (cells.IsWrong(DesignColumns.From) || cells.IsWrong(DesignColumns.To)) && member == "to") return;
        cells.Say(DesignColumns.Holding(kind, member) ?? DesignColumns.Circuit, wrong.Detail, wrong.Remedy);
    }

    private string? HeaderText(int column) =>
        csv.Rows.Count > 0 && column < csv.Rows[0].Cells.Count ? DesignCells.Short(csv.Rows[0].Cells[column].Text) : null;

    private int ColumnOf(DesignProblem problem) => problem.Column is { } column ? places.GetValueOrDefault(column, int.MaxValue) : int.MaxValue;

    [GeneratedRegex(@"^data\.(?<list>fittings|runs)\[(?<index>[0-9]+)\]")]
    private static partial Regex PartOfDesign();
}
