using System.Diagnostics;
using System.Text.Json;
using FleetLight.Contracts.Proofs;
using FleetLight.Record.Ledger;
using FleetLight.Service.Store;
using Npgsql;
using NpgsqlTypes;

namespace FleetLight.Service.Ledger;

/// <summary>What one turn of the appender did.</summary>
/// <param name="Appended">How many facts came into ledgers.</param>
/// <param name="More">Whether there is more to do at once.</param>
public readonly record struct AppendTurn(int Appended, bool More);

/// <summary>
/// Puts recorded facts into the ledgers of their organisations, each once, in the order of recording, behind the intake and without
/// holding it up. A turn is one transaction under a lock that all nodes share. The place of a fact in its ledger is given here and
/// never changes; a fact that commits late, beyond a gap, comes later in the ledger than in the store.
/// </summary>
public sealed class LedgerAppender(NpgsqlDataSource database, TimeProvider clock)
{
    /// <summary>Most events of one turn.</summary>
    public const int MostEvents = 2000;

    // Any number that nothing else locks.
    private const long Lock = 0x666c_6c65_6467_6572;

    // A transaction is over long before: the longest wait is that of a batch, some ten seconds.
    private static readonly TimeSpan GapsOpenFor = TimeSpan.FromHours(1);

    /// <summary>Takes a turn.</summary>
    /// <param name="waits">Whether to wait while another node has the turn; else nothing is done then.</param>
    /// <param name="gaps">Whether to look at gaps that were left behind.</param>
    /// <param name="cancel">Ends it, with nothing done.</param>
    public async Task<AppendTurn> TurnAsync(bool waits, bool gaps, CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        await using var transaction = await connection.BeginTransactionAsync(cancel);
        if (await AskAsync(connection, waits ? $"select true from (select pg_advisory_xact_lock({Lock})) as l" : $"select pg_try_advisory_xact_lock({Lock})", cancel) is not true)
            return new AppendTurn(0, false);
        var through = await AskAsync(connection, $"select through from {Tables.Schema}.fl_ledger_progress", cancel) as long? ?? 0;
        // Behind this mark nothing is under way but in gaps that the daemon has given up.
        var high = await AskAsync(connection, $"select last_seq_id from {Tables.Schema}.mt_event_progression where name = 'HighWaterMark'", cancel) as long? ?? 0;
        var late = gaps ? await LateAsync(connection, cancel) : [];
        var (events, end, holes) = high > through ? await ReadAsync(connection, through, high, cancel) : ([], through, []);
        if (late.Count == 0 && end == through) return new AppendTurn(0, false);

        var appended = 0;
        foreach (var own in late.Concat(events).GroupBy(each => each.Organisation, StringComparer.Ordinal))
            appended += await AppendAsync(connection, own.Key, [.. own], cancel);
        await AdvanceAsync(connection, end, holes, cancel);
        await transaction.CommitAsync(cancel);
        return new AppendTurn(appended, end < high);
    }

    /// <summary>Takes turns until all that was recorded before the call is in, as far as the store's order is settled.</summary>
    public async Task CatchUpAsync(CancellationToken cancel)
    {
        var target = await NewestAsync(cancel);
        var began = Stopwatch.GetTimestamp();
        while (true)
        {
            var turn = await TurnAsync(waits: true, gaps: false, cancel);
            if (turn.More) continue;
            if (await ThroughAsync(cancel) >= target || Stopwatch.GetElapsedTime(began) > TimeSpan.FromSeconds(5)) return;
            // The mark that says how far the order is settled is a few milliseconds behind.
            await Task.Delay(20, cancel);
        }
    }

    private async Task<long> NewestAsync(CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await AskAsync(connection, $"select max(seq_id) from {Tables.Schema}.mt_events", cancel) as long? ?? 0;
    }

    private async Task<long> ThroughAsync(CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        return await AskAsync(connection, $"select through from {Tables.Schema}.fl_ledger_progress", cancel) as long? ?? 0;
    }

    // The events of a stretch, those that are no fact without their data; where the stretch ends; and the places in it that are empty.
    private static async Task<(List<KeptFact> Facts, long End, List<(long First, long Last)> Holes)> ReadAsync(
        NpgsqlConnection connection, long through, long high, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(
            $"""
            select seq_id, tenant_id, id, type, case when jsonb_exists(data, 'of') and jsonb_exists(data, 'data') then data end
            from {Tables.Schema}.mt_events where seq_id > $1 and seq_id <= $2 order by seq_id limit {MostEvents}
            """, connection);
        command.Parameters.Add(new NpgsqlParameter { Value = through });
        command.Parameters.Add(new NpgsqlParameter { Value = high });
        var facts = new List<KeptFact>(MostEvents);
        var holes = new List<(long, long)>();
        var (last, seen) = (through, 0);
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel))
        {
            var sequence = reader.GetInt64(0);
            if (sequence > last + 1) holes.Add((last + 1, sequence - 1));
            last = sequence;
            seen++;
            if (!reader.IsDBNull(4)) facts.Add(Kept(reader, 1));
        }

        if (seen == MostEvents) return (facts, last, holes);
        if (high > last) holes.Add((last + 1, high));
        return (facts, high, holes);
    }

    // What came into gaps after the ledger had come past.
    private async Task<List<KeptFact>> LateAsync(NpgsqlConnection connection, CancellationToken cancel)
    {
        await using (var over = new NpgsqlCommand($"delete from {Tables.Schema}.fl_ledger_gap where seen_at < $1", connection))
        {
            over.Parameters.Add(new NpgsqlParameter { Value = clock.GetUtcNow() - GapsOpenFor });
            await over.ExecuteNonQueryAsync(cancel);
        }

        await using var command = new NpgsqlCommand(
            $"""
            select e.tenant_id, e.id, e.type, e.data from {Tables.Schema}.fl_ledger_gap as g
            join {Tables.Schema}.mt_events as e on e.seq_id between g.first and g.last
            where jsonb_exists(e.data, 'of') and jsonb_exists(e.data, 'data')
              and not exists (select 1 from {Tables.Schema}.fl_ledger_leaf as l where l.tenant_id = e.tenant_id and l.event_id = e.id)
            order by e.seq_id limit {MostEvents}
            """, connection);
        var late = new List<KeptFact>();
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel)) late.Add(Kept(reader, 0));
        return late;
    }

    private static KeptFact Kept(NpgsqlDataReader reader, int from) =>
        new(reader.GetString(from), reader.GetGuid(from + 1), reader.GetString(from + 2), reader.GetString(from + 3));

    private static async Task<int> AppendAsync(NpgsqlConnection connection, string organisation, KeptFact[] facts, CancellationToken cancel)
    {
        // An organisation that was moved here brought its ledger along; its events come past once more.
        var known = await KnownAsync(connection, organisation, [.. facts.Select(fact => fact.EventId)], cancel);
        var (size, bytes) = await HeadAsync(connection, organisation, cancel);
        var edge = await LedgerTree.EdgeAsync(connection, organisation, size, cancel);
        var (ids, hashes, ends) = (new List<Guid>(facts.Length), new List<byte[]>(facts.Length), new List<long>(facts.Length));
        var nodes = new List<(MerkleNode Node, byte[] Hash)>();
        foreach (var fact in facts)
        {
            if (!known.Add(fact.EventId)) continue;
            var line = fact.Line(edge.Size, organisation);
            bytes += line.Length + 1;
            ids.Add(fact.EventId);
            hashes.Add(MerkleHash.Leaf(line));
            ends.Add(bytes);
            nodes.AddRange(edge.Add(hashes[^1]).Where(each => KeptNodes.IsKept(each.Node)));
        }

        if (ids.Count == 0) return 0;
        await using var batch = new NpgsqlBatch(connection)
        {
            BatchCommands =
            {
                Command(
                    $"""
                    insert into {Tables.Schema}.fl_ledger_leaf (tenant_id, leaf, event_id, hash, ends_at)
                    select $1, $2 + row.at - 1, row.event_id, row.hash, row.ends_at
                    from unnest($3::uuid[], $4::bytea[], $5::bigint[]) with ordinality as row(event_id, hash, ends_at, at)
                    """, organisation, size, ids.ToArray(), hashes.ToArray(), ends.ToArray()),
                Command(
                    $"""
                    insert into {Tables.Schema}.fl_ledger_node (tenant_id, level, node, hash) select $1, * from unnest($2::int[], $3::bigint[], $4::bytea[])
                    """, organisation, nodes.Select(each => each.Node.Level).ToArray(), nodes.Select(each => each.Node.Index).ToArray(),
                    nodes.Select(each => each.Hash).ToArray()),
                Command(
                    $"""
                    insert into {Tables.Schema}.fl_ledger_head (tenant_id, size, bytes) values ($1, $2, $3)
                    on conflict (tenant_id) do update set size = excluded.size, bytes = excluded.bytes
                    """, organisation, edge.Size, bytes),
            },
        };
        await batch.ExecuteNonQueryAsync(cancel);
        return ids.Count;
    }

    private static async Task<HashSet<Guid>> KnownAsync(NpgsqlConnection connection, string organisation, Guid[] ids, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(
            $"""
            select l.event_id from unnest($2) as wanted(id) cross join lateral
            (select event_id from {Tables.Schema}.fl_ledger_leaf where tenant_id = $1 and event_id = wanted.id offset 0) as l
            """, connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = ids });
        var known = new HashSet<Guid>();
        await using var reader = await command.ExecuteReaderAsync(cancel);
        while (await reader.ReadAsync(cancel)) known.Add(reader.GetGuid(0));
        return known;
    }

    /// <summary>How many facts a ledger has, and how many bytes their lines have.</summary>
    public static async Task<(long Size, long Bytes)> HeadAsync(NpgsqlConnection connection, string organisation, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select size, bytes from {Tables.Schema}.fl_ledger_head where tenant_id = $1", connection);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        return await reader.ReadAsync(cancel) ? (reader.GetInt64(0), reader.GetInt64(1)) : (0, 0);
    }

    private async Task AdvanceAsync(NpgsqlConnection connection, long end, List<(long First, long Last)> holes, CancellationToken cancel)
    {
        await using var batch = new NpgsqlBatch(connection)
        {
            BatchCommands =
            {
                Command(
                    $"""
                    insert into {Tables.Schema}.fl_ledger_progress (one, through) values (true, $1)
                    on conflict (one) do update set through = excluded.through
                    """, end),
                Command(
                    $"""
                    insert into {Tables.Schema}.fl_ledger_gap (first, last, seen_at) select *, $3 from unnest($1::bigint[], $2::bigint[])
                    on conflict (first) do nothing
                    """, holes.Select(hole => hole.First).ToArray(), holes.Select(hole => hole.Last).ToArray(), clock.GetUtcNow()),
            },
        };
        await batch.ExecuteNonQueryAsync(cancel);
    }

    private static NpgsqlBatchCommand Command(string sql, params object[] values)
    {
        var command = new NpgsqlBatchCommand(sql);
        foreach (var value in values)
        {
            var parameter = new NpgsqlParameter { Value = value };
            if (value is byte[][]) parameter.NpgsqlDbType = NpgsqlDbType.Array | NpgsqlDbType.Bytea;
            command.Parameters.Add(parameter);
        }

        return command;
    }

    private static async Task<object?> AskAsync(NpgsqlConnection connection, string sql, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(sql, connection);
        return await command.ExecuteScalarAsync(cancel);
    }

    private sealed record KeptFact(string Organisation, Guid EventId, string Type, string Data)
    {
        public byte[] Line(long index, string organisation)
        {
            using var document = JsonDocument.Parse(Data);
            return LedgerLine.Of(index, organisation, Type, document.RootElement);
        }
    }
}
