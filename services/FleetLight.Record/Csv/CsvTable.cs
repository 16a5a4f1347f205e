using System.Buffers;
using System.Globalization;
using System.Text;

namespace FleetLight.Record.Csv;

/// <summary>
/// Writes a table as text (RFC 4180): commas, points in numbers, CR LF. A text that a spreadsheet would take for a formula is
/// written with an apostrophe before it, and so is one that begins with an apostrophe; <see cref="Said"/> takes it off again.
/// </summary>
public sealed class CsvTable
{
    private static readonly SearchValues<char> AskingForQuotes = SearchValues.Create(",;\t\"\r\n");

    private readonly StringBuilder text = new();
    private int cells;

    /// <summary>A table with that header.</summary>
    public CsvTable(params ReadOnlySpan<string> header)
    {
        foreach (var name in header) Plain(name);
        End();
    }

    /// <summary>What a cell's text meant before it was guarded against being taken for a formula.</summary>
    public static string Said(string cell) => cell is ['\'', var next, ..] && IsGuarded(next) ? cell[1..] : cell;

    /// <summary>Adds a text.</summary>
    public CsvTable Text(string? value) => Plain(value is [var first, ..] && IsGuarded(first) ? $"'{value}" : value ?? "");

    /// <summary>Adds a number, so that reading it gives the same number.</summary>
    public CsvTable Number(double? value) => Plain(value?.ToString("R", CultureInfo.InvariantCulture) ?? "");

    /// <summary>Adds a number for people, with at most that many decimals.</summary>
    public CsvTable Rounded(double? value, int decimals) =>
        Number(value is { } known ? Math.Round(known, decimals, MidpointRounding.AwayFromZero) : null);

    /// <summary>Ends the row.</summary>
    public void End()
    {
        text.Append("\r\n");
        cells = 0;
    }

    /// <summary>Takes what was written since the last time, so that a long table is never whole in memory.</summary>
    public string Take()
    {
        var taken = text.ToString();
        text.Clear();
        return taken;
    }

    /// <summary>The table.</summary>
    public override string ToString() => text.ToString();

    private static bool IsGuarded(char first) => first is '=' or '+' or '-' or '@' or '\'';

    private CsvTable Plain(string value)
    {
        if (cells++ > 0) text.Append(',');
        if (MayStandBare(value)) text.Append(value);
        else text.Append('"').Append(value.Replace("\"", "\"\"", StringComparison.Ordinal)).Append('"');
        return this;
    }

    private static bool MayStandBare(string value) =>
        value.Length == 0
        || (!value.AsSpan().ContainsAny(AskingForQuotes) && !char.IsWhiteSpace(value[0]) && !char.IsWhiteSpace(value[^1]) && value[0] != '\uFEFF');
}
