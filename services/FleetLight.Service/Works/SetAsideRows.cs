using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Works;

/// <summary>
/// The rows of what the projection set aside. They are states like others: written with their page, thrown away and found
/// again by a rebuild. An event that could not be read at all stands in the daemon's own table of dead letters instead.
/// </summary>
public static class SetAsideRows
{
    private const string Table = "fl_set_aside";

    /// <summary>Adds what this page sets aside and takes away what it took in.</summary>
    public static void Save(PageWrites writes, string organisation, SetAsides asides, IEnumerable<Guid> takenIn, DateTimeOffset at)
    {
        var gone = takenIn.Select(id => id.ToString("N")).ToArray();
        if (gone.Length > 0)
        {
            writes.Sql($"delete from {Table} where tenant_id = ? and id = any(?)", organisation, gone);
            writes.Sql(
                $"delete from {Tables.Schema}.mt_doc_deadletterevent where (data ->> 'eventSequence')::bigint in "
                + $"(select seq_id from {Tables.Schema}.mt_events where tenant_id = ? and id = any(?::uuid[]))",
                organisation, gone);
        }

        foreach (var (unit, thing, error) in asides.Units)
            Add(writes, organisation, unit.Id, unit.Id, thing ?? unit.Touched(), error, at);
        foreach (var (thing, error) in asides.Things)
            Add(writes, organisation, IdOf(organisation, thing), null, thing, error, at);
    }

    /// <summary>The id under which a thing is set aside.</summary>
    public static Guid IdOf(string organisation, ThingRef thing) => EventIds.Of("set-aside", organisation, ThingKeys.Of(thing));

    /// <summary>The rows of an organisation: the fact's event where it is one, and the thing.</summary>
    public static async Task<List<(Guid Id, Guid? EventId, ThingRef? Thing)>> OpenAsync(
        NpgsqlDataSource database, string organisation, CancellationToken cancel)
    {
        await using var command = database.CreateCommand($"select id, event_id, thing from {Table} where tenant_id = $1");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var rows = new List<(Guid, Guid?, ThingRef?)>();
        while (await reader.ReadAsync(cancel))
        {
            rows.Add((Guid.Parse(reader.GetString(0)), reader.IsDBNull(1) ? null : reader.GetGuid(1),
                reader.IsDBNull(2) ? null : ThingKeys.Read(reader.GetString(2))));
        }

        return rows;
    }

    private static void Add(PageWrites writes, string organisation, Guid id, Guid? eventId, ThingRef? thing, string error, DateTimeOffset at) => writes.Sql(
        $"""
        insert into {Table} (tenant_id, id, event_id, thing, error, at) values (?, ?, nullif(?, '')::uuid, nullif(?, ''), ?, ?)
        on conflict (tenant_id, id) do update set error = excluded.error, thing = excluded.thing
        """,
        organisation, id.ToString("N"), eventId?.ToString() ?? "", thing is null ? "" : ThingKeys.Of(thing), error, at.ToUniversalTime());
}
