using FleetLight.Service.MadeFiles;

namespace FleetLight.Service.Exports;

/// <summary>Which table, as it stands when it is made.</summary>
/// <param name="Organisation">Whose.</param>
/// <param name="Table">Which.</param>
/// <param name="From">Of readings: only those taken then or later.</param>
/// <param name="To">Of readings: only those taken before.</param>
public sealed record TableOf(string Organisation, ExportTable Table, DateTimeOffset? From, DateTimeOffset? To) : IWantedFile;

/// <summary>Makes tables as compressed files.</summary>
public sealed class TableMaker(ExportTableReader tables)
{
    /// <summary>How tables are made.</summary>
    public static readonly MadeFileOptions<TableOf> Options = new()
    {
        Name = "table",
        Extension = ".csv.gz",
        BeingMade = "The table is being made.",
        MostOfOne = new MostAtOnce(4, "As many tables as may be made at once are made already."),
    };

    /// <summary>Makes one.</summary>
    public Task<MadeFile> MakeAsync(TableOf wanted, string path, CancellationToken cancel)
    {
        ArgumentNullException.ThrowIfNull(wanted);
        return PackedTable.WriteAsync(path, tables.ReadAsync(wanted.Organisation, wanted.Table, wanted.From, wanted.To, cancel), cancel);
    }
}
