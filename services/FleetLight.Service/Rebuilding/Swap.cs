using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Rebuilding;

/// <summary>
/// Puts the new states in the place of the old ones, in one transaction that waits for the page at hand. The running daemon's
/// place in the store is set to that of the new states, which is never ahead of it: a page that was read from the old states
/// cannot be written any more, for it does not go on from there, and what lies between is folded again and told nobody twice.
/// </summary>
public static class Swap
{
    // So that readers, who wait behind the swap, wait no longer than this.
    private const string Patience = "2s";

    private const string Alerts = "mt_doc_alertdocument";

    /// <summary>Whether it was done; if not, the new states have to catch up further, and it is tried again.</summary>
    public static async Task<bool> TryAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        try
        {
            if (!await InsteadAsync(connection, cancel)) return false;
            await transaction.CommitAsync(cancel);
            return true;
        }
        catch (PostgresException busy) when (busy.SqlState is PostgresErrorCodes.LockNotAvailable or PostgresErrorCodes.DeadlockDetected)
        {
            return false;
        }
    }

    private static async Task<bool> InsteadAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        // In the order in which a page takes them: its place first, then the tables.
        var tables = string.Join(", ", Tables.OfStates.Append(Alerts).Select(table => $"{Tables.Schema}.{table}"));
        await RunAsync(connection,
            $"""
            set local lock_timeout = '{Patience}';
            select 1 from {Tables.Schema}.mt_event_progression where name = '{WorksProjection.Name}:All' for update;
            lock table {tables} in access exclusive mode;
            """, cancel);
        var (running, built, newest) = await PlacesAsync(connection, cancel);
        // With nothing in the store beyond the running projection, no page of it can be under way.
        if (built > running || (built == running && newest > running)) return false;
        await RunAsync(connection,
            $"""
            delete from {Tables.Schema}.{Alerts};
            insert into {Tables.Schema}.{Alerts} select * from {ShadowStore.Schema}.{Alerts};
            {string.Join('\n', Tables.OfStates.Select(table =>
                $"drop table {Tables.Schema}.{table}; alter table {ShadowStore.Schema}.{table} set schema {Tables.Schema};"))}
            update {Tables.Schema}.mt_event_progression set last_seq_id = {built} where name = '{WorksProjection.Name}:All';
            delete from {DeadLetters.Table} where data ->> 'projectionName' = '{WorksProjection.Name}';
            notify {ChangeOver.Channel};
            """, cancel);
        return true;
    }

    /// <summary>How far the running projection and the rebuilt one are, and the newest event.</summary>
    public static async Task<(long Running, long Built, long Newest)> PlacesAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(
            $"""
            select coalesce((select last_seq_id from {Tables.Schema}.mt_event_progression where name = '{WorksProjection.Name}:All'), 0),
                   coalesce((select last_seq_id from {Tables.Schema}.mt_event_progression where name = '{ShadowStore.Name}:All'), 0),
                   coalesce((select max(seq_id) from {Tables.Schema}.mt_events), 0)
            """, connection);
        await using var reader = await command.ExecuteReaderAsync(cancel);
        await reader.ReadAsync(cancel);
        return (reader.GetInt64(0), reader.GetInt64(1), reader.GetInt64(2));
    }

    private static async Task RunAsync(NpgsqlConnection connection, string sql, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(sql, connection) { CommandTimeout = 0 };
        await command.ExecuteNonQueryAsync(cancel);
    }
}
