using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.PageParts.Designing;

/// <summary>Kinds of row of a design.</summary>
public enum RowKind
{
    /// <summary>A fitting.</summary>
    Fitting,

    /// <summary>A run of cable.</summary>
    Run,
}

/// <summary>A fitting or a run as it stands on the sheet.</summary>
/// <param name="Key">Stays with the row wherever it is moved, no unit.</param>
/// <param name="Cells">What is written into its fields, by their members.</param>
/// <param name="FileRow">The row of the file that it came from, as a spreadsheet counts them; none where it came from none.</param>
public sealed record SheetRow(int Key, ImmutableDictionary<string, string> Cells, int? FileRow = null)
{
    /// <summary>What is written into a field.</summary>
    public string this[string member] => Cells.GetValueOrDefault(member) ?? "";

    /// <summary>The row with a field written anew.</summary>
    public SheetRow With(string member, string? text) =>
        this with { Cells = string.IsNullOrWhiteSpace(text) ? Cells.Remove(member) : Cells.SetItem(member, text.Trim()) };
}

/// <summary>
/// A design while it is written: every field as text, so that what cannot be read yet stays where it was typed and is named there.
/// </summary>
public sealed record DesignSheet
{
    private static readonly ImmutableDictionary<string, string> Nothing = ImmutableDictionary<string, string>.Empty;

    /// <summary>The circuit itself.</summary>
    public SheetRow Head { get; init; } = new(0, Nothing);

    /// <summary>The driver.</summary>
    public SheetRow Driver { get; init; } = new(0, Nothing);

    /// <summary>The fittings in their order.</summary>
    public ImmutableList<SheetRow> Fittings { get; init; } = [];

    /// <summary>The runs in their order.</summary>
    public ImmutableList<SheetRow> Runs { get; init; } = [];

    /// <summary>The key of the next row, no unit.</summary>
    public int NextKey { get; init; } = 1;

    /// <summary>The drive.</summary>
    public DriveKind Drive => Head["drive"] == Record.Files.Words.Of(DriveKind.ConstantVoltage) ? DriveKind.ConstantVoltage : DriveKind.ConstantCurrent;

    /// <summary>A sheet to begin with: one fitting and the run to it.</summary>
    public static DesignSheet Empty(string? siteId = null) => new DesignSheet
    {
        Head = new SheetRow(0, Nothing).With("siteId", siteId).With("drive", Record.Files.Words.Of(DriveKind.ConstantCurrent)),
    }.Add(RowKind.Fitting).Add(RowKind.Run);

    /// <summary>The rows of a kind.</summary>
    public ImmutableList<SheetRow> Rows(RowKind kind) => kind == RowKind.Fitting ? Fittings : Runs;

    /// <summary>The sheet with a row written anew.</summary>
    public DesignSheet With(RowKind kind, int key, string member, string? text)
    {
        var rows = Rows(kind);
        var at = rows.FindIndex(row => row.Key == key);
        return at < 0 ? this : Put(kind, rows.SetItem(at, rows[at].With(member, text)));
    }

    /// <summary>
    /// The sheet with one more row at its end. It begins with what a next one mostly is: the same sort of fitting, or the same sort of
    /// cable going on from where the last run ended.
    /// </summary>
    public DesignSheet Add(RowKind kind)
    {
        var rows = Rows(kind);
        var added = new SheetRow(NextKey, Nothing);
        if (kind == RowKind.Fitting)
        {
            added = added.With("fittingId", FreeId("f", rows.Select(row => row["fittingId"])));
            if (rows is [.., var last]) added = Same(added, last, "ratedWatts", "description", "tolerancePercent", "leastVolts", "load", "statedMilliamps", "bypassDiode");
        }
        else
        {
            added = added.With("runId", FreeId("r", rows.Select(row => row["runId"]))).With("from", rows is [.., var before] ? before["to"] : "driver");
            var reached = rows.Select(row => row["to"]).ToHashSet(StringComparer.Ordinal);
            added = added.With("to", Fittings.Select(fitting => fitting["fittingId"]).FirstOrDefault(id => id.Length > 0 && !reached.Contains(id)));
            added = rows is [.., var last]
                ? Same(added, last, "areaSquareMillimetres", "conductorClass", "surroundings", "conductorsInLoop")
                : added.With("areaSquareMillimetres", "1.5").With("conductorClass", Record.Files.Words.Of(ConductorClass.Class5));
        }

        return Put(kind, rows.Add(added)) with { NextKey = NextKey + 1 };
    }

    /// <summary>The sheet without a row.</summary>
    public DesignSheet Remove(RowKind kind, int key) => Put(kind, Rows(kind).RemoveAll(row => row.Key == key));

    /// <summary>The sheet with a row moved by so many places, as far as there are any.</summary>
    public DesignSheet Move(RowKind kind, int key, int by)
    {
        var rows = Rows(kind);
        var at = rows.FindIndex(row => row.Key == key);
        var to = Math.Clamp(at + by, 0, rows.Count - 1);
        return at < 0 || to == at ? this : Put(kind, rows.RemoveAt(at).Insert(to, rows[at]));
    }

    /// <summary>The fields of a kind that are shown: those that mean something for the drive, and those that are filled in all the same.</summary>
    /// <param name="kind">The kind of row.</param>
    /// <param name="withSeldom">Whether those that are seldom filled in are shown too.</param>
    public IReadOnlyList<SheetField> Shown(RowKind kind, bool withSeldom) =>
    [
        .. SheetFields.Of(kind).Where(field =>
            ((withSeldom || !field.IsSeldom) && (field.OnlyFor is null || field.OnlyFor == Drive)) || Rows(kind).Any(row => row[field.Member].Length > 0)),
    ];

    private DesignSheet Put(RowKind kind, ImmutableList<SheetRow> rows) => kind == RowKind.Fitting ? this with { Fittings = rows } : this with { Runs = rows };

    private static SheetRow Same(SheetRow row, SheetRow as_, params ReadOnlySpan<string> members)
    {
        foreach (var member in members) row = row.With(member, as_[member]);
        return row;
    }

    private static string FreeId(string prefix, IEnumerable<string> taken)
    {
        var known = taken.ToHashSet(StringComparer.Ordinal);
        var number = known.Count + 1;
        while (known.Contains($"{prefix}{number}")) number++;
        return $"{prefix}{number}";
    }
}
