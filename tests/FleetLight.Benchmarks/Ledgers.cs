using System.Diagnostics;
using System.Security.Cryptography;
using FleetLight.Contracts.Facts;
using FleetLight.Service.Exports;
using FleetLight.Service.Ledger;
using FleetLight.Service.Store;
using Microsoft.Extensions.Configuration;
using Microsoft.Extensions.Logging.Abstractions;
using Npgsql;

namespace FleetLight.Benchmarks;

/// <summary>
/// (h) Facts put into the ledger, beside a raw insert of the same leaf rows; and the export of all facts with their hashes checked,
/// beside a raw COPY of the same rows in the same order.
/// </summary>
internal static class Ledgers
{
    private const int Circuits = 400;
    private const int Readings = 90_000;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(20);

    /// <summary>Measures.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        Console.WriteLine($"Ledger: building {Circuits} circuits and {Readings} readings");
        var circuits = Enumerable.Range(0, Circuits).Select(index => ($"s{index / 40}", $"k{index}")).ToArray();
        await fleet.BuildAsync(circuits);
        var device = await fleet.AddDeviceAsync();
        for (var round = 0; round < Readings / 1000; round++)
        {
            var facts = Enumerable.Range(0, 1000).Select(index => circuits[((round * 1000) + index) % circuits.Length])
                .Select((each, index) => (IFact)Facts.Reading(each.Item1, each.Item2, index)).ToArray();
            await device.SendAsync(device.Prepare(facts), facts.Length);
        }

        await running.CaughtUpAsync();
        await running.StopAsync();

        await using var database = MartenSetup.Database(running.Connection);
        foreach (var table in (string[])["leaf", "node", "head", "checkpoint", "progress", "gap", "export", "key"])
        {
            var name = $"{Tables.Schema}.fl_ledger_{table}";
            await RunAsync(database, $"alter table {name} disable trigger user; truncate {name}; alter table {name} enable trigger user");
        }

        var appender = new LedgerAppender(database, TimeProvider.System);
        var watch = Stopwatch.StartNew();
        var appended = 0;
        for (var turn = new AppendTurn(0, true); turn.More; appended += turn.Appended)
            turn = await appender.TurnAsync(waits: true, gaps: false, CancellationToken.None);
        var leaves = appended / watch.Elapsed.TotalSeconds;
        var plain = await PlainAsync(database, appended);
        report.Add($"(h) ledger: facts appended/s, {appended:N0} facts", $"{leaves:N0}", $"raw insert of the leaf rows {plain:N0}", leaves / plain);
        await ExportAsync(database, appended, report, "(h)");
    }

    /// <summary>Puts facts that are in no ledger yet into it for a while, and exports what is in it.</summary>
    public static async Task AtSizeAsync(Server stopped, Report report)
    {
        await using var database = MartenSetup.Database(stopped.Connection);
        var appender = new LedgerAppender(database, TimeProvider.System);
        var watch = Stopwatch.StartNew();
        var appended = 0;
        for (var turn = new AppendTurn(0, true); turn.More && watch.Elapsed < Longest; appended += turn.Appended)
            turn = await appender.TurnAsync(waits: true, gaps: false, CancellationToken.None);
        var leaves = appended / watch.Elapsed.TotalSeconds;
        var plain = await PlainAsync(database, appended);
        report.Add($"(j) ledger: facts appended/s, the first {appended:N0} facts", $"{leaves:N0}", $"raw insert of the leaf rows {plain:N0}", leaves / plain);
        await ExportAsync(database, appended, report, "(j)");
    }

    private static async Task ExportAsync(NpgsqlDataSource database, int facts, Report report, string part)
    {
        var settings = new ConfigurationBuilder().AddInMemoryCollection([new("Ledger:SigningKey", new string('5', 64))]).Build();
        using var keys = new LedgerKeys(database, settings, TimeProvider.System, NullLogger<LedgerKeys>.Instance);
        await keys.StartAsync(CancellationToken.None);
        var checkpoint = await new CheckpointDesk(database, keys, TimeProvider.System).MakeAsync("bench", CancellationToken.None)
            ?? throw new InvalidOperationException("There is no checkpoint.");
        var export = await FactExport.OpenAsync(database, "bench", checkpoint, NullLogger.Instance, CancellationToken.None);
        var watch = Stopwatch.StartNew();
        if (await export.WriteAsync(Stream.Null, 0, export.Length, CancellationToken.None) is null) throw new InvalidOperationException("The export is not sound.");
        var rate = facts / watch.Elapsed.TotalSeconds;
        watch.Restart();
        var bytes = 0L;
        await using (var connection = await database.OpenConnectionAsync())
        await using (var copy = await connection.BeginRawBinaryCopyAsync(
            $"copy (select tenant_id, type, data from {Tables.Schema}.mt_events where jsonb_exists(data, 'of') order by seq_id limit {facts}) to stdout (format binary)"))
        {
            var buffer = new byte[64 * 1024];
            for (int read; (read = await copy.ReadAsync(buffer.AsMemory(), CancellationToken.None)) > 0;) bytes += read;
        }

        var copied = facts / watch.Elapsed.TotalSeconds;
        report.Add(
            $"{part} export: facts/s, {export.Length / facts} bytes each, hashes checked", $"{rate:N0}",
            $"raw COPY of the same rows ({bytes / facts} bytes) {copied:N0}", rate / copied);
    }

    // The same rows into a table with the same columns and indexes, as many at once as a turn.
    private static async Task<double> PlainAsync(NpgsqlDataSource database, int count)
    {
        await RunAsync(database, $"create table {Tables.Schema}.plain_leaf (like {Tables.Schema}.fl_ledger_leaf including all)");
        var hashes = Enumerable.Range(0, LedgerAppender.MostEvents).Select(_ => RandomNumberGenerator.GetBytes(32)).ToArray();
        var watch = Stopwatch.StartNew();
        for (var first = 0; first < count; first += LedgerAppender.MostEvents)
        {
            var rows = Math.Min(LedgerAppender.MostEvents, count - first);
            await using var command = database.CreateCommand(
                $"""
                insert into {Tables.Schema}.plain_leaf (tenant_id, leaf, event_id, hash, ends_at)
                select 'bench', $1 + row.at, row.id, row.hash, row.at from unnest($2::uuid[], $3::bytea[]) with ordinality as row(id, hash, at)
                """);
            command.Parameters.Add(new NpgsqlParameter { Value = (long)first });
            command.Parameters.Add(new NpgsqlParameter { Value = Enumerable.Range(0, rows).Select(_ => Guid.NewGuid()).ToArray() });
            command.Parameters.Add(new NpgsqlParameter { Value = hashes[..rows], NpgsqlDbType = NpgsqlTypes.NpgsqlDbType.Array | NpgsqlTypes.NpgsqlDbType.Bytea });
            await command.ExecuteNonQueryAsync();
        }

        return count / watch.Elapsed.TotalSeconds;
    }

    private static async Task RunAsync(NpgsqlDataSource database, string sql)
    {
        await using var command = database.CreateCommand(sql);
        await command.ExecuteNonQueryAsync();
    }
}
