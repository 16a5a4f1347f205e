namespace FleetLight.Record.Designs;

/// <summary>A column of a table of designs, for whoever fills one in.</summary>
/// <param name="Header">What its header says, with the unit.</param>
/// <param name="Circuit">The member that it holds on the row of a circuit; empty where it stays empty there.</param>
/// <param name="Fitting">The same on the row of a fitting.</param>
/// <param name="Run">The same on the row of a run.</param>
public sealed record DesignTableColumn(string Header, string Circuit, string Fitting, string Run);

/// <summary>How a table of designs is laid out.</summary>
public static class DesignTable
{
    /// <summary>Its columns, in the order in which they are written.</summary>
    public static IReadOnlyList<DesignTableColumn> Columns { get; } =
    [
        .. DesignColumns.All.Select(column => new DesignTableColumn(
            column.Header, On(column, DesignRow.Circuit, "circuit"), On(column, DesignRow.Fitting, "fitting"), On(column, DesignRow.Run, "run"))),
    ];

    private static string On(DesignColumn column, DesignRow row, string word)
    {
        if (!column.On.HasFlag(row)) return "";
        var member = column == DesignColumns.Row ? $"the word {word}" : column.Members.FirstOrDefault(one => one.Row == row).Member ?? "circuitId";
        return column.Needed.HasFlag(row) ? $"{member}, needed" : member;
    }
}
