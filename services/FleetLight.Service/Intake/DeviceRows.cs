using System.Collections.Immutable;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Intake;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Marten;
using Npgsql;
using NpgsqlTypes;

namespace FleetLight.Service.Intake;

/// <summary>The rows that hold the running numbers of each device, and the look-up of facts that are known already.</summary>
public static class DeviceRows
{
    private const string Devices = $"{Tables.Schema}.fl_device";

    // The one place that reads Marten's event table by itself: id and data are its documented columns. An id follows from
    // the organisation among other things, so it finds no other's facts. One look into the index for each id: given the
    // ids as a list, a planner without statistics reads the whole organisation instead.
    private const string KnownSql =
        $"""
        select known.id, known.data -> 'of' ->> 'digest' from unnest($1) as wanted(id)
        cross join lateral (select id, data from {Tables.Schema}.mt_events where id = wanted.id offset 0) as known
        """;

    /// <summary>Locks the device's row in the session's transaction and says what is in hand and which facts are known.</summary>
    public static async Task<(RunningNumbers Numbers, Dictionary<Guid, string> Known)> LockAsync(
        IDocumentSession session, string source, Guid[] ids, CancellationToken cancel)
    {
        await using var batch = new NpgsqlBatch(session.Connection)
        {
            Timeout = (int)TimeLimit.Answer.TotalSeconds,
            BatchCommands =
            {
                Command($"insert into {Devices} (tenant_id, source, ranges) values ($1, $2, '{{}}') on conflict do nothing", session.TenantId, source),
                Command($"select ranges from {Devices} where tenant_id = $1 and source = $2 for update", session.TenantId, source),
                Command(KnownSql, ids),
            },
        };
        await using var reader = await batch.ExecuteReaderAsync(cancel);
        await reader.ReadAsync(cancel);
        var numbers = ToNumbers(reader.GetFieldValue<int[]>(0));
        await reader.NextResultAsync(cancel);
        var known = new Dictionary<Guid, string>();
        while (await reader.ReadAsync(cancel)) known[reader.GetGuid(0)] = reader.IsDBNull(1) ? "" : reader.GetString(1);
        return (numbers, known);
    }

    /// <summary>Makes a device known before it hands anything in.</summary>
    public static void Know(IDocumentSession session, string organisation, string source) => session.QueueSqlCommand(
        $"insert into {Devices} (tenant_id, source, ranges) values (?, ?, '{{}}') on conflict do nothing", organisation, source);

    /// <summary>What is in hand of a device.</summary>
    public static async Task<RunningNumbers> ReadAsync(IQuerySession session, string source, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select ranges from {Devices} where tenant_id = $1 and source = $2", session.Connection);
        command.Parameters.Add(new NpgsqlParameter { Value = session.TenantId });
        command.Parameters.Add(new NpgsqlParameter { Value = source });
        return await command.ExecuteScalarAsync(cancel) is int[] ranges ? ToNumbers(ranges) : RunningNumbers.None;
    }

    /// <summary>Writes what is in hand with the session's other changes.</summary>
    public static void Update(IDocumentSession session, string source, RunningNumbers numbers, DateTimeOffset seenAt)
    {
        var flat = new int[numbers.Ranges.Length * 2];
        for (var index = 0; index < numbers.Ranges.Length; index++)
            (flat[2 * index], flat[2 * index + 1]) = (numbers.Ranges[index].From, numbers.Ranges[index].Through);
        session.QueueSqlCommand($"update {Devices} set ranges = ?, last_seen = ? where tenant_id = ? and source = ?",
            flat, seenAt, session.TenantId, source);
    }

    private static NpgsqlBatchCommand Command(string sql, params object[] values)
    {
        var command = new NpgsqlBatchCommand(sql);
        foreach (var value in values)
        {
            command.Parameters.Add(value is Guid[] guids
                ? new NpgsqlParameter { Value = guids, NpgsqlDbType = NpgsqlDbType.Array | NpgsqlDbType.Uuid }
                : new NpgsqlParameter { Value = value });
        }

        return command;
    }

    /// <summary>Running numbers as their column holds them: the two ends of each range.</summary>
    public static RunningNumbers ToNumbers(int[] flat)
    {
        var ranges = ImmutableArray.CreateBuilder<NumberRange>(flat.Length / 2);
        for (var index = 0; index + 1 < flat.Length; index += 2) ranges.Add(new NumberRange(flat[index], flat[index + 1]));
        return new RunningNumbers(ranges.ToImmutable());
    }
}
