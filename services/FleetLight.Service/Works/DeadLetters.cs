using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>The events that the daemon could not read, so that no page ever saw them.</summary>
public static class DeadLetters
{
    /// <summary>Where they are kept: one document an event that could not be read.</summary>
    public const string Table = $"{Tables.Schema}.mt_doc_deadletterevent";

    /// <summary>Whether an organisation's event is one.</summary>
    public static async Task<bool> HoldAsync(NpgsqlDataSource database, string organisation, Guid eventId, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"""
            select exists (select 1 from {Tables.Schema}.mt_events as e join {Table} as d on (d.data ->> 'eventSequence')::bigint = e.seq_id
            where e.tenant_id = $1 and e.id = $2)
            """);
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = eventId });
        return (bool)(await command.ExecuteScalarAsync(cancel))!;
    }
}
