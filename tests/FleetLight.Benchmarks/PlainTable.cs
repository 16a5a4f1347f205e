using System.Diagnostics;
using System.Text;
using Npgsql;
using NpgsqlTypes;

namespace FleetLight.Benchmarks;

/// <summary>
/// The limit: the rows that the service wrote, into a plain table with the columns and indexes of the event table, durable,
/// on 4 connections in batches of 100; the better of binary COPY and one multi-row insert.
/// </summary>
internal static class PlainTable
{
    private const string Columns = "id, stream_id, version, data, type, timestamp, tenant_id, dotnet_type, is_archived";

    /// <summary>Rows per second.</summary>
    public static async Task<double> MeasureAsync(string server, IReadOnlyList<byte[]> rows)
    {
        var copy = await MeasureAsync(server, rows, CopyAsync);
        var insert = await MeasureAsync(server, rows, InsertAsync);
        Console.WriteLine($"    plain table: COPY {copy:N0}/s, multi-row insert {insert:N0}/s");
        return Math.Max(copy, insert);
    }

    private static async Task<double> MeasureAsync(
        string server, IReadOnlyList<byte[]> rows, Func<NpgsqlConnection, ArraySegment<string>, int, Task> write)
    {
        var connection = await Server.MakeDatabaseAsync(server);
        await using var database = NpgsqlDataSource.Create(connection);
        await using (var make = database.CreateCommand(
            """
            create table plain (seq_id bigserial primary key, id uuid not null, stream_id varchar not null, version bigint not null, data jsonb not null,
              type varchar(500) not null, timestamp timestamptz not null default now(), tenant_id varchar not null, dotnet_type varchar, is_archived bool default false);
            create unique index on plain (tenant_id, stream_id, version);
            create unique index on plain (id);
            """))
            await make.ExecuteNonQueryAsync();
        var texts = rows.Select(Encoding.UTF8.GetString).ToArray();
        await Task.WhenAll(Enumerable.Range(0, 4).Select(lane => RunAsync(database, texts, write, lane, 10)));
        var watch = Stopwatch.StartNew();
        const int batches = 400;
        await Task.WhenAll(Enumerable.Range(0, 4).Select(lane => RunAsync(database, texts, write, lane + 4, batches)));
        return 4 * batches * 100 / watch.Elapsed.TotalSeconds;
    }

    private static async Task RunAsync(
        NpgsqlDataSource database, string[] texts, Func<NpgsqlConnection, ArraySegment<string>, int, Task> write, int lane, int batches)
    {
        await using var connection = await database.OpenConnectionAsync();
        for (var batch = 0; batch < batches; batch++)
            await write(connection, new ArraySegment<string>(texts, batch % (texts.Length / 100) * 100, 100), lane * 1_000_000 + batch * 100);
    }

    private static async Task CopyAsync(NpgsqlConnection connection, ArraySegment<string> rows, int first)
    {
        await using var writer = await connection.BeginBinaryImportAsync($"copy plain ({Columns}) from stdin (format binary)");
        foreach (var row in rows)
        {
            await writer.StartRowAsync();
            await writer.WriteAsync(Guid.NewGuid(), NpgsqlDbType.Uuid);
            await writer.WriteAsync($"device-{first / 1_000_000}", NpgsqlDbType.Varchar);
            await writer.WriteAsync((long)first++, NpgsqlDbType.Bigint);
            await writer.WriteAsync(row, NpgsqlDbType.Jsonb);
            await writer.WriteAsync("fleetlight.reading.taken.v1", NpgsqlDbType.Varchar);
            await writer.WriteAsync(DateTime.UtcNow, NpgsqlDbType.TimestampTz);
            await writer.WriteAsync("bench", NpgsqlDbType.Varchar);
            await writer.WriteAsync("FleetLight.Service.Store.Kept, FleetLight.Service", NpgsqlDbType.Varchar);
            await writer.WriteAsync(false, NpgsqlDbType.Boolean);
        }

        await writer.CompleteAsync();
    }

    private static async Task InsertAsync(NpgsqlConnection connection, ArraySegment<string> rows, int first)
    {
        await using var command = new NpgsqlCommand(
            $"""
            insert into plain ({Columns})
            select a.id, $1, a.version, a.data::jsonb, 'fleetlight.reading.taken.v1', now(), 'bench', 'FleetLight.Service.Store.Kept, FleetLight.Service', false
            from unnest($2, $3, $4) as a(id, version, data)
            """, connection);
        command.Parameters.Add(new NpgsqlParameter { Value = $"device-{first / 1_000_000}" });
        command.Parameters.Add(new NpgsqlParameter { Value = rows.Select(_ => Guid.NewGuid()).ToArray() });
        command.Parameters.Add(new NpgsqlParameter { Value = Enumerable.Range(first, rows.Count).Select(each => (long)each).ToArray() });
        command.Parameters.Add(new NpgsqlParameter { Value = rows.ToArray() });
        await command.ExecuteNonQueryAsync();
    }
}
