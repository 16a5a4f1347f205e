using System.Runtime.CompilerServices;
using System.Text.Json;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Csv;
using FleetLight.Record.Exports;
using FleetLight.Service.Circuits;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Exports;

/// <summary>The tables that can be taken along.</summary>
public enum ExportTable
{
    /// <summary>Ducts as they are.</summary>
    Ducts,

    /// <summary>Cables as they are.</summary>
    Cables,

    /// <summary>Boxes as they are.</summary>
    Boxes,

    /// <summary>Circuits as they are.</summary>
    Circuits,

    /// <summary>Every reading, by circuit and time.</summary>
    Readings,

    /// <summary>Every alert, cleared ones too.</summary>
    Alerts,
}

/// <summary>Reads the rows of tables, as text, part by part.</summary>
public sealed class ExportTableReader(NpgsqlDataSource database)
{
    private const int RowsOfPart = 500;

    // A list of things is read from its rows, one behind the other.
    private const string States = "select body from fl_state where tenant_id = $1 and kind = $2 order by id";

    /// <summary>The table, its header first.</summary>
    /// <param name="organisation">Whose.</param>
    /// <param name="table">Which.</param>
    /// <param name="from">Of readings: only those taken then or later.</param>
    /// <param name="to">Of readings: only those taken before.</param>
    /// <param name="cancel">Ends it.</param>
    public IAsyncEnumerable<string> ReadAsync(
        string organisation, ExportTable table, DateTimeOffset? from, DateTimeOffset? to, CancellationToken cancel) => table switch
        {
            ExportTable.Ducts => RowsAsync(ExportTables.OfDucts, States, [organisation, StateKinds.Duct], As<DuctView>(ExportTables.Add), cancel),
            ExportTable.Cables => RowsAsync(ExportTables.OfCables, States, [organisation, StateKinds.Cable], As<CableView>(ExportTables.Add), cancel),
            ExportTable.Boxes => RowsAsync(ExportTables.OfBoxes, States, [organisation, StateKinds.Box], As<BoxView>(ExportTables.Add), cancel),
            ExportTable.Circuits => RowsAsync(
                ExportTables.OfCircuits, "select line from fl_circuit where tenant_id = $1 order by id", [organisation], As<CircuitLine>(ExportTables.Add), cancel),
            ExportTable.Readings => RowsAsync(
                ExportTables.OfReadings,
                "select entry, counts from fl_reading where tenant_id = $1 and happened_at >= $2 and happened_at < $3 order by circuit_id, happened_at, event_id",
                [organisation, from?.ToUniversalTime() ?? DateTimeOffset.UnixEpoch, to?.ToUniversalTime() ?? new DateTimeOffset(9999, 1, 1, 0, 0, 0, TimeSpan.Zero)],
                (rows, reader) => ExportTables.Add(rows, ReadingArrays.FromText(reader.GetString(0)), reader.GetBoolean(1)),
                cancel),
            _ => RowsAsync(
                ExportTables.OfAlerts, $"select data -> 'view' from {Tables.Schema}.mt_doc_alertdocument where tenant_id = $1 order by id", [organisation],
                As<AlertView>(ExportTables.Add), cancel),
        };

    private static Action<CsvTable, NpgsqlDataReader> As<T>(Action<CsvTable, T> add) =>
        (rows, reader) => add(rows, JsonSerializer.Deserialize<T>(reader.GetString(0), WireJson.Lenient)!);

    private async IAsyncEnumerable<string> RowsAsync(
        string[] header, string sql, object[] values, Action<CsvTable, NpgsqlDataReader> add, [EnumeratorCancellation] CancellationToken cancel)
    {
        var rows = new CsvTable(header);
        await using var command = database.CreateCommand(sql);
        foreach (var value in values) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        for (var count = 1; await reader.ReadAsync(cancel); count++)
        {
            add(rows, reader);
            if (count % RowsOfPart == 0) yield return rows.Take();
        }

        yield return rows.Take();
    }
}
