using FleetLight.Contracts.Wire;
using FleetLight.Service.Intake;
using FleetLight.Service.Store;
using Marten;
using Npgsql;

namespace FleetLight.Service.Devices;

/// <summary>A device as its row holds it.</summary>
/// <param name="Source">The device.</param>
/// <param name="LastSeen">When it last handed something in.</param>
/// <param name="Receipt">How far it is complete.</param>
/// <param name="Sites">The sites that it is assigned.</param>
public sealed record DeviceRow(string Source, DateTimeOffset? LastSeen, Receipt Receipt, IReadOnlyList<string> Sites);

/// <summary>The devices of an organisation and the sites that each is assigned.</summary>
public static class DeviceSites
{
    private const string Devices = $"{Tables.Schema}.fl_device";

    /// <summary>Assigns sites in place of those before, with the session's other changes.</summary>
    public static void Assign(IDocumentSession session, string source, string[] sites)
    {
        DeviceRows.Know(session, session.TenantId, source);
        session.QueueSqlCommand($"update {Devices} set sites = ? where tenant_id = ? and source = ?", sites, session.TenantId, source);
    }

    /// <summary>The sites that a device is assigned; none where it is assigned none.</summary>
    public static async Task<IReadOnlyList<string>> OfAsync(IQuerySession session, string source, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select sites from {Devices} where tenant_id = $1 and source = $2", session.Connection);
        command.Parameters.Add(new NpgsqlParameter { Value = session.TenantId });
        command.Parameters.Add(new NpgsqlParameter { Value = source });
        return await command.ExecuteScalarAsync(cancel) as string[] ?? [];
    }

    /// <summary>Whether the organisation knows the device.</summary>
    public static async Task<bool> KnowsAsync(IQuerySession session, string source, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand($"select 1 from {Devices} where tenant_id = $1 and source = $2", session.Connection);
        command.Parameters.Add(new NpgsqlParameter { Value = session.TenantId });
        command.Parameters.Add(new NpgsqlParameter { Value = source });
        return await command.ExecuteScalarAsync(cancel) is not null;
    }

    /// <summary>Devices in the order of their sources, after one of them.</summary>
    /// <param name="session">The organisation's session.</param>
    /// <param name="after">The source after which to begin.</param>
    /// <param name="most">Most devices.</param>
    /// <param name="silentSince">Only those that handed nothing in since; all if null.</param>
    /// <param name="cancel">Cancels.</param>
    public static async Task<List<DeviceRow>> ListAsync(
        IQuerySession session, string after, int most, DateTimeOffset? silentSince, CancellationToken cancel)
    {
        await using var command = new NpgsqlCommand(
            $"select source, last_seen, ranges, sites from {Devices} where tenant_id = $1 and source > $2 "
            + (silentSince is null ? "" : "and (last_seen is null or last_seen < $4) ") + "order by source limit $3", session.Connection);
        command.Parameters.Add(new NpgsqlParameter { Value = session.TenantId });
        command.Parameters.Add(new NpgsqlParameter { Value = after });
        command.Parameters.Add(new NpgsqlParameter { Value = most });
        if (silentSince is { } since) command.Parameters.Add(new NpgsqlParameter { Value = since.ToUniversalTime() });
        await using var reader = await command.ExecuteReaderAsync(cancel);
        var found = new List<DeviceRow>();
        while (await reader.ReadAsync(cancel))
        {
            var source = reader.GetString(0);
            found.Add(new DeviceRow(
                source,
                reader.IsDBNull(1) ? null : reader.GetFieldValue<DateTimeOffset>(1),
                DeviceRows.ToNumbers(reader.GetFieldValue<int[]>(2)).ToReceipt(source),
                reader.IsDBNull(3) ? [] : reader.GetFieldValue<string[]>(3)));
        }

        return found;
    }
}
