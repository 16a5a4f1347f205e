using FleetLight.Contracts.Proofs;
using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Ledger;

/// <summary>Makes checkpoints of ledgers, and reads them.</summary>
public sealed class CheckpointDesk(NpgsqlDataSource database, LedgerKeys keys, TimeProvider clock)
{
    private const string Columns = "size, root, made_at, key_id, signed";

    /// <summary>Makes a checkpoint of the ledger as it is, unless there is one of its size, and gives it; none where it is empty or this node cannot sign.</summary>
    public async Task<CheckpointView?> MakeAsync(string organisation, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        var (size, _) = await LedgerAppender.HeadAsync(connection, organisation, cancel);
        if (size == 0) return null;
        if (await FindAsync(connection, organisation, size, cancel) is { } known) return known;
        if (keys.KeyId is not { } keyId) return null;
        var edge = await LedgerTree.EdgeAsync(connection, organisation, size, cancel);
        var now = clock.GetUtcNow();
        var note = new CheckpointNote(organisation, size, edge.Root, now.AddTicks(-(now.Ticks % TimeSpan.TicksPerMillisecond)));
        await using var insert = new NpgsqlCommand(
            $"""
            insert into {Tables.Schema}.fl_ledger_checkpoint (tenant_id, size, root, made_at, key_id, signed) values ($1, $2, $3, $4, $5, $6)
            on conflict (tenant_id, size) do nothing
            """, connection);
        foreach (var value in (object[])[organisation, size, note.Root, note.MadeAt.ToUniversalTime(), keyId, CheckpointSeal.Write(note, keyId, keys.Sign)])
            insert.Parameters.Add(new NpgsqlParameter { Value = value });
        await insert.ExecuteNonQueryAsync(cancel);
        // Another node may have been first.
        return await FindAsync(connection, organisation, size, cancel);
    }

    /// <summary>The checkpoint of that size, or the newest where none is said.</summary>
    public async Task<CheckpointView?> FindAsync(string organisation, long? size, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await FindAsync(connection, organisation, size, cancel);
    }

    /// <summary>Checkpoints of sizes below that one, the newest first.</summary>
    public async Task<List<CheckpointView>> ListAsync(string organisation, long below, int most, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await ReadAsync(connection, organisation, below, most, cancel);
    }

    /// <summary>Organisations whose ledger has grown since their newest checkpoint, if that is older than the time given.</summary>
    public async Task<List<string>> DueAsync(DateTimeOffset before, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select h.tenant_id from {Tables.Schema}.fl_ledger_head as h left join lateral
            (select size, made_at from {Tables.Schema}.fl_ledger_checkpoint where tenant_id = h.tenant_id order by size desc limit 1) as c on true
            where c.size is null or (c.size < h.size and c.made_at <= $1)
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = before.ToUniversalTime() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var due = new List<string>();
        while (await reader.ReadAsync(cancel)) due.Add(reader.GetString(0));
        return due;
    }

    private static async Task<CheckpointView?> FindAsync(NpgsqlConnection connection, string organisation, long? size, CancellationToken cancel)
    {
        var found = await ReadAsync(connection, organisation, size is { } one ? one + 1 : long.MaxValue, 1, cancel);
        return found is [var first] && (size is null || first.Size == size) ? first : null;
    }

    private static async Task<List<CheckpointView>> ReadAsync(NpgsqlConnection connection, string organisation, long below, int most, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(
            $"select {Columns} from {Tables.Schema}.fl_ledger_checkpoint where tenant_id = $1 and size < $2 order by size desc limit $3", connection);
        foreach (var value in (object[])[organisation, below, most]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<CheckpointView>();
        while (await reader.ReadAsync(cancel))
        {
            found.Add(new CheckpointView
            {
                Organisation = organisation,
                Size = reader.GetInt64(0),
                Root = Convert.ToHexStringLower(reader.GetFieldValue<byte[]>(1)),
                MadeAt = reader.GetFieldValue<DateTimeOffset>(2),
                KeyId = reader.GetString(3),
                Jws = reader.GetString(4),
            });
        }

        return found;
    }
}
