using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Record.Csv;
using FleetLight.Record.Files;

namespace FleetLight.Record.Designs;

/// <summary>The cells of one row by their columns. What cannot be read is said once and read as nothing.</summary>
/// <param name="row">The row.</param>
/// <param name="kind">Its kind.</param>
/// <param name="header">Where each column stands.</param>
/// <param name="takesDecimalComma">Whether a comma in a number is a decimal comma in this file.</param>
/// <param name="problems">Takes the mistakes.</param>
internal sealed class DesignCells(
    CsvRow row, DesignRow kind, IReadOnlyDictionary<DesignColumn, int> header, bool takesDecimalComma, ICollection<DesignProblem> problems)
{
    private readonly HashSet<DesignColumn> wrong = [];

    /// <summary>The number of the row.</summary>
    public int Number => row.Number;

    /// <summary>The circuit that the row is of.</summary>
    public string CircuitId => Raw(DesignColumns.Circuit);

    /// <summary>Whether something was said of the cell already.</summary>
    public bool IsWrong(DesignColumn column) => wrong.Contains(column);

    /// <summary>Whether anything stands in the cell.</summary>
    public bool Has(DesignColumn column) => Raw(column).Length > 0;

    /// <summary>Says what is wrong with a cell, once.</summary>
    public void Say(DesignColumn column, string detail, string remedy)
    {
        if (!wrong.Add(column)) return;
        problems.Add(new DesignProblem
        {
            Row = row.Number,
            Column = column.Header,
            CircuitId = CircuitId.Length > 0 ? CircuitId : null,
            Detail = detail,
            Remedy = remedy,
        });
    }

    /// <summary>Says it of each cell that is filled in and should not be, or should be and is not.</summary>
    public void CheckFilled()
    {
        foreach (var column in DesignColumns.All)
        {
            var isFilled = Has(column);
            if (isFilled && !column.On.HasFlag(kind))
                Say(column, $"{column.Name} is not taken on a row of a {Words.Of(kind)}.", "Leave the cell empty, or put it on the row that it belongs to.");
            else if (!isFilled && column.Needed.HasFlag(kind))
            {
                // A column that is not there at all is said once, of the header.
                if (header.ContainsKey(column)) Say(column, $"{column.Name} is missing.", $"Give it; a row of a {Words.Of(kind)} needs it.");
                else wrong.Add(column);
            }
        }
    }

    /// <summary>A text; none where the cell is empty.</summary>
    public string? Text(DesignColumn column) => Raw(column) is { Length: > 0 } text ? CsvTable.Said(text) : null;

    /// <summary>A number; none where the cell is empty or says none.</summary>
    public double? Measure(DesignColumn column)
    {
        if (Raw(column) is not { Length: > 0 } text) return null;
        var plain = text;
        if (text.Contains(',', StringComparison.Ordinal))
        {
            if (!takesDecimalComma || text.Contains('.', StringComparison.Ordinal) || text.IndexOf(',', StringComparison.Ordinal) != text.LastIndexOf(','))
            {
                Say(column, $"'{Short(text)}' may mean two numbers.", "Write it without separators of thousands, and with a decimal point.");
                return null;
            }

            plain = text.Replace(',', '.');
        }
        else if (takesDecimalComma && text.Contains('.', StringComparison.Ordinal))
        {
            Say(column, $"'{Short(text)}' has a point, other numbers of this file have a decimal comma.", "Write all numbers of a file alike, without separators of thousands.");
            return null;
        }

        if (double.TryParse(plain, NumberStyles.Float & ~NumberStyles.AllowThousands, CultureInfo.InvariantCulture, out var number) && double.IsFinite(number))
            return number;
        Say(column, $"'{Short(text)}' is no number.", $"Give the number alone{(column.Unit is { } unit ? $", in {unit}; the unit stands in the header" : "")}.");
        return null;
    }

    /// <summary>A whole number; none where the cell is empty or says none.</summary>
    public int? Whole(DesignColumn column)
    {
        if (Measure(column) is not { } number) return null;
        if (number == Math.Truncate(number) && Math.Abs(number) <= int.MaxValue) return (int)number;
        Say(column, $"'{Short(Raw(column))}' is no whole number.", "Give a whole number.");
        return null;
    }

    /// <summary>A word of a list; none where the cell is empty or says none of them.</summary>
    public T? Word<T>(DesignColumn column)
        where T : struct, Enum
    {
        if (Raw(column) is not { Length: > 0 } text) return null;
        foreach (var word in Enum.GetValues<T>())
            if (Plain(Words.Of(word)) == Plain(text)) return word;
        Say(column, $"'{Short(text)}' is none of the words taken here.", $"Use one of: {string.Join(", ", Enum.GetValues<T>().Select(word => Words.Of(word)))}.");
        return null;
    }

    /// <summary>Yes or no; none where the cell is empty or says neither.</summary>
    public bool? YesOrNo(DesignColumn column)
    {
        switch (Raw(column).ToUpperInvariant())
        {
            case "": return null;
            case "YES" or "TRUE": return true;
            case "NO" or "FALSE": return false;
            default:
                Say(column, $"'{Short(Raw(column))}' is neither yes nor no.", "Use yes or no.");
                return null;
        }
    }

    private string Raw(DesignColumn column) =>
        header.TryGetValue(column, out var at) && at < row.Cells.Count ? row.Cells[at].Text : "";

    private static string Plain(string word) => string.Concat(word.Where(char.IsLetterOrDigit)).ToUpperInvariant();

    /// <summary>A text of the file as a mistake tells it: no longer than a person reads.</summary>
    public static string Short(string text) => text.Length <= 40 ? text : string.Concat(text.AsSpan(0, 40), "…");
}
