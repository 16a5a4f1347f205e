using System.Globalization;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>Lists what stands aside, with the fact's own words taken from the store; what cannot be read among it.</summary>
public sealed class SetAsideList(NpgsqlDataSource database)
{
    // A dead letter of an event that stands there twice, as after a daemon read the page again, is one.
    private const string Sql =
        $"""
        select id, event_id, thing, error, at, type, fact, unreadable from (
          select s.id, s.event_id, s.thing, s.error, s.at, e.type, (e.data -> 'of' ->> 'source') || '#' || (e.data -> 'of' ->> 'id') as fact,
                 false as unreadable
          from fl_set_aside as s left join {Tables.Schema}.mt_events as e on e.id = s.event_id where s.tenant_id = $1
          union all
          select distinct on (e.seq_id) replace(e.id::text, '-', ''), e.id, null, left(d.data ->> 'exceptionMessage', 300),
                 (d.data ->> 'timestamp')::timestamptz, e.type, (e.data -> 'of' ->> 'source') || '#' || (e.data -> 'of' ->> 'id'), true
          from {DeadLetters.Table} as d join {Tables.Schema}.mt_events as e on e.seq_id = (d.data ->> 'eventSequence')::bigint
          where e.tenant_id = $1
        ) as aside where id > $2 order by id limit $3
        """;

    /// <summary>Those after an id, in the order of their ids, with the event of each.</summary>
    public async Task<List<(SetAsideView View, Guid? EventId)>> AfterAsync(string organisation, string after, int most, CancellationToken cancel)
    {
        await using var command = database.CreateCommand(Sql);
        foreach (var value in (object[])[organisation, after, most]) command.Parameters.Add(new NpgsqlParameter { Value = value });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<(SetAsideView, Guid?)>();
        while (await reader.ReadAsync(cancel))
        {
            Guid? eventId = reader.IsDBNull(1) ? null : reader.GetGuid(1);
            found.Add((new SetAsideView
            {
                Id = reader.GetString(0),
                Kind = reader.GetBoolean(7) ? SetAsideKind.Unreadable : eventId is null ? SetAsideKind.Thing : SetAsideKind.Fact,
                Thing = Text(reader, 2),
                Error = Text(reader, 3) ?? "",
                At = reader.IsDBNull(4) ? DateTimeOffset.UnixEpoch : reader.GetFieldValue<DateTimeOffset>(4),
                Type = Text(reader, 5),
                Fact = Text(reader, 6),
            }, eventId));
        }

        return found;
    }

    /// <summary>How many stand aside, of all organisations.</summary>
    public async Task<long> CountAsync(CancellationToken cancel)
    {
        await using var command = database.CreateCommand(
            $"select (select count(*) from fl_set_aside) + (select count(distinct data ->> 'eventSequence') from {DeadLetters.Table})");
        command.CommandTimeout = 5;
        return Convert.ToInt64(await command.ExecuteScalarAsync(cancel), CultureInfo.InvariantCulture);
    }

    private static string? Text(NpgsqlDataReader reader, int column) => reader.IsDBNull(column) ? null : reader.GetString(column);
}
