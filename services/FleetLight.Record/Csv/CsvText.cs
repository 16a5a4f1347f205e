using System.Text;

namespace FleetLight.Record.Csv;

/// <summary>A cell.</summary>
/// <param name="Text">What it says; white space around it is gone unless it stood in quotes.</param>
/// <param name="IsQuoted">Whether it stood in quotes.</param>
public readonly record struct CsvCell(string Text, bool IsQuoted);

/// <summary>A row.</summary>
/// <param name="Number">Its number as a spreadsheet counts, from 1; a line break inside quotes begins no new row.</param>
/// <param name="Cells">Its cells.</param>
public sealed record CsvRow(int Number, IReadOnlyList<CsvCell> Cells)
{
    /// <summary>Whether there is nothing in it.</summary>
    public bool IsBlank => Cells.All(cell => cell.Text.Length == 0);
}

/// <summary>A mistake in how a table is written.</summary>
/// <param name="Row">The row, from 1.</param>
/// <param name="Column">The column, from 1.</param>
/// <param name="Detail">What is wrong.</param>
public sealed record CsvFault(int Row, int Column, string Detail);

/// <summary>
/// A table as text (RFC 4180), read as offices make them: with or without a byte order mark, with line breaks of any system,
/// separated by commas, semicolons or tabs as its first row shows, or as a line <c>sep=;</c> before it says.
/// </summary>
public sealed class CsvText
{
    private readonly string text;
    private readonly List<CsvRow> rows = [];
    private readonly List<CsvFault> faults = [];
    private List<CsvCell> cells = [];
    private int at;

    private CsvText(string text)
    {
        this.text = text;
        at = text.StartsWith('\uFEFF') ? 1 : 0;
        if (HintedSeparator() is { } hinted)
        {
            Separator = hinted;
            rows.Add(new(1, [new(text[at..(at + 5)], false)]));
            at += 5;
            SkipLineBreak();
        }
        else
        {
            Separator = SeparatorOfFirstRow();
        }

        while (at < text.Length) ReadRow();
        Rows = [.. rows.Where((row, index) => !row.IsBlank && !(index == 0 && IsHint(row)))];
    }

    /// <summary>What stands between cells: a comma, a semicolon or a tab.</summary>
    public char Separator { get; }

    /// <summary>The rows that are not blank, the first of them the header.</summary>
    public IReadOnlyList<CsvRow> Rows { get; }

    /// <summary>Mistakes in how it is written.</summary>
    public IReadOnlyList<CsvFault> Faults => faults;

    /// <summary>Reads a table; whatever the text, it is read somehow and mistakes are named.</summary>
    public static CsvText Read(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        return new(text);
    }

    /// <summary>Reads a table from bytes: UTF-8 or UTF-16 where they are that, else the western alphabet that older programs write.</summary>
    public static CsvText Read(ReadOnlySpan<byte> bytes) => Read(Decoded(bytes));

    private static string Decoded(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xFE])) return Encoding.Unicode.GetString(bytes[2..]);
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFE, 0xFF])) return Encoding.BigEndianUnicode.GetString(bytes[2..]);
        return System.Text.Unicode.Utf8.IsValid(bytes) ? Encoding.UTF8.GetString(bytes) : Encoding.Latin1.GetString(bytes);
    }

    private static bool IsHint(CsvRow row) => row is { Number: 1, Cells: [{ IsQuoted: false, Text: { Length: 5 } hint }] } && IsHint(hint);

    private static bool IsHint(ReadOnlySpan<char> line) =>
        line.Length == 5 && line.StartsWith("sep=", StringComparison.OrdinalIgnoreCase) && line[4] is ',' or ';' or '\t';

    private char? HintedSeparator()
    {
        if (text.Length < at + 5 || !IsHint(text.AsSpan(at, 5))) return null;
        return text.Length == at + 5 || text[at + 5] is '\r' or '\n' ? text[at + 4] : null;
    }

    private char SeparatorOfFirstRow()
    {
        var (commas, semicolons, tabs, quoted, begun) = (0, 0, 0, false, false);
        for (var i = at; i < text.Length; i++)
        {
            var c = text[i];
            if (c == '"') quoted = !quoted;
            if (quoted) continue;
            if (c is '\r' or '\n' && begun) break;
            begun |= !char.IsWhiteSpace(c);
            if (c == ',') commas++;
            if (c == ';') semicolons++;
            if (c == '\t') tabs++;
        }

        return semicolons > commas && semicolons >= tabs ? ';' : tabs > commas ? '\t' : ',';
    }

    private void ReadRow()
    {
        cells = [];
        do cells.Add(ReadCell());
        while (TrySkipSeparator());
        SkipLineBreak();
        rows.Add(new(rows.Count + 1, cells));
    }

    private bool TrySkipSeparator()
    {
        if (at >= text.Length || text[at] != Separator) return false;
        at++;
        return true;
    }

    private void SkipLineBreak()
    {
        if (at < text.Length && text[at] == '\r') at++;
        else if (at < text.Length && text[at] == '\n')
        {
            at++;
            return;
        }

        if (at > 0 && at < text.Length && text[at - 1] == '\r' && text[at] == '\n') at++;
    }

    private CsvCell ReadCell()
    {
        var start = at;
        while (at < text.Length && text[at] is ' ') at++;
        if (at < text.Length && text[at] == '"') return ReadQuoted();
        at = start;
        while (at < text.Length && text[at] != Separator && text[at] is not ('\r' or '\n')) at++;
        return new(text[start..at].Trim(), false);
    }

    private CsvCell ReadQuoted()
    {
        var said = new StringBuilder();
        at++;
        while (true)
        {
            if (at >= text.Length)
            {
                Fault("A quote is opened and never closed: everything after it is in this cell.");
                return new(said.ToString(), true);
            }

            var c = text[at++];
            if (c != '"') said.Append(c);
            else if (at < text.Length && text[at] == '"')
            {
                said.Append('"');
                at++;
            }
            else
            {
                break;
            }
        }

        var start = at;
        while (at < text.Length && text[at] != Separator && text[at] is not ('\r' or '\n')) at++;
        var rest = text[start..at].Trim();
        if (rest.Length > 0) Fault("Something stands after the closing quote. A quote inside a cell in quotes is written twice.");
        return new(said.Append(rest).ToString(), true);
    }

    private void Fault(string detail) => faults.Add(new(rows.Count + 1, cells.Count + 1, detail));
}
