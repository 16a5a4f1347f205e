using System.Globalization;
using FleetLight.Service.Ledger;
using JasperFx;
using Marten;
using Npgsql;

namespace FleetLight.Service.Store;

/// <summary>
/// Brings the database to this build's version before anything else starts, one node at a time. Changes only ever add: tables,
/// columns that may be empty, indexes, types of event. So an older node goes on beside a newer one, unless the newer version
/// says otherwise; an older node leaves a newer database as it is, and ends with a word where it may not use it.
/// </summary>
public sealed class SchemaStart(NpgsqlDataSource database, IDocumentStore store, ILogger<SchemaStart> log) : IHostedService
{
    /// <summary>
    /// The version of this build. Counts up with every change of tables or stored events. 1 wrote no version; 2 sets aside what
    /// the projection cannot take in; 3 keeps enrolments, the sites of devices, the roles of keys and who administered what;
    /// 4 lists the facts of sites and things, keeps photos, their bytes, and visits; 5 seals what signs webhooks, keeps subscriptions,
    /// a ledger of facts and features for open data; 6 has an index of each organisation's events, and keeps the ledger from being changed.
    /// </summary>
    public const int Version = 6;

    /// <summary>The oldest version that may still run on a database of this version.</summary>
    public const int LeastBeside = 1;

    private const string Table = $"{Tables.Schema}.fl_schema";

    // Any number that nothing else locks.
    private const long Lock = 0x666c_7363_6865_6d61;

    /// <inheritdoc/>
    public async Task StartAsync(CancellationToken cancellationToken)
    {
        await using var connection = await database.OpenConnectionAsync(cancellationToken);
        await RunAsync(connection, $"select pg_advisory_lock({Lock})", cancellationToken);
        try
        {
            await MigrateAsync(connection, cancellationToken);
        }
        finally
        {
            await RunAsync(connection, $"select pg_advisory_unlock({Lock})", CancellationToken.None);
        }
    }

    /// <inheritdoc/>
    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    private async Task MigrateAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        var (version, least) = await ReadAsync(connection, cancel);
        if (least > Version)
        {
            throw new InvalidOperationException(string.Create(CultureInfo.InvariantCulture,
                $"The database is of version {version}, which builds from version {least} on may use; this build is of version {Version}. Start a newer build."));
        }

        if (version > Version)
        {
            log.LogWarning("The database is of version {Version}, newer than this build's {Own}: it is used as it is", version, Version);
            return;
        }

        await store.Storage.ApplyAllConfiguredChangesToDatabaseAsync(AutoCreate.CreateOrUpdate);
        await RunAsync(connection, EventIndex.Sql, cancel);
        await RunAsync(connection, LedgerGuard.Sql, cancel);
        // The lists of facts are whole from the beginning where nothing was recorded before them; else a rebuild makes them so.
        await RunAsync(connection,
            $"""
            insert into {Tables.Schema}.fl_facts_whole (one) select true where not exists (select 1 from {Tables.Schema}.mt_events)
              on conflict do nothing;
            create table if not exists {Table} (one boolean primary key default true check (one), version integer not null,
              least_beside integer not null, since timestamp with time zone not null default now());
            insert into {Table} (version, least_beside) values ({Version}, {LeastBeside})
              on conflict (one) do update set version = excluded.version, least_beside = excluded.least_beside, since = now()
              where fl_schema.version <> excluded.version or fl_schema.least_beside <> excluded.least_beside;
            """, cancel);
    }

    /// <summary>The version of a database; 0 where it has none.</summary>
    public static async Task<int> VersionAsync(NpgsqlConnection connection, CancellationToken cancel) => (await ReadAsync(connection, cancel)).Version;

    private static async Task<(int Version, int Least)> ReadAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        await using (var exists = new NpgsqlCommand($"select to_regclass('{Table}') is not null", connection))
        {
            if (await exists.ExecuteScalarAsync(cancel) is not true) return (0, 0);
        }

        await using var command = new NpgsqlCommand($"select version, least_beside from {Table}", connection);
        await using var reader = await command.ExecuteReaderAsync(cancel);
        return await reader.ReadAsync(cancel) ? (reader.GetInt32(0), reader.GetInt32(1)) : (0, 0);
    }

    private static async Task RunAsync(NpgsqlConnection connection, string sql, CancellationToken cancel)
    {
        // A node that waits for another's migration waits for as long as that takes.
        await using var command = new NpgsqlCommand(sql, connection) { CommandTimeout = 0 };
        await command.ExecuteNonQueryAsync(cancel);
    }
}
