using FleetLight.Contracts.Views;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>Counts the fleet where it is kept.</summary>
public sealed class FleetQueries(NpgsqlDataSource database)
{
    /// <summary>The whole fleet in numbers.</summary>
    public async Task<FleetView> ReadAsync(string organisation, CancellationToken cancel)
    {
        await using var batch = database.CreateBatch();
        foreach (var sql in (ReadOnlySpan<string>)
                 [
                     $"select count(*) from fl_state where tenant_id = $1 and kind = 'site'",
                     $"select phase, verdict, count(*) from fl_circuit where tenant_id = $1 group by 1, 2",
                     $"select data ->> 'severity', count(*) from {Tables.Schema}.mt_doc_alertdocument where tenant_id = $1 and data ->> 'standing' <> 'cleared' group by 1",
                     $"select source, last_seen from {Tables.Schema}.fl_device where tenant_id = $1 order by source",
                 ])
        {
            var command = batch.CreateBatchCommand();
            command.CommandText = sql;
            command.Parameters.Add(new NpgsqlParameter { Value = organisation });
            batch.BatchCommands.Add(command);
        }

        await using var reader = await batch.ExecuteReaderAsync(cancel);
        await reader.ReadAsync(cancel);
        var sites = reader.GetInt64(0);
        var (phases, verdicts, alerts) = (new SortedDictionary<string, long>(), new SortedDictionary<string, long>(), new SortedDictionary<string, long>());
        await reader.NextResultAsync(cancel);
        while (await reader.ReadAsync(cancel))
        {
            Add(phases, reader.GetString(0), reader.GetInt64(2));
            Add(verdicts, reader.GetString(1), reader.GetInt64(2));
        }

        await reader.NextResultAsync(cancel);
        while (await reader.ReadAsync(cancel)) Add(alerts, reader.GetString(0), reader.GetInt64(1));
        await reader.NextResultAsync(cancel);
        var devices = new List<DeviceLine>();
        while (await reader.ReadAsync(cancel))
            devices.Add(new DeviceLine(reader.GetString(0), reader.IsDBNull(1) ? null : reader.GetFieldValue<DateTimeOffset>(1)));
        return new FleetView
        {
            Sites = sites,
            Circuits = phases.Values.Sum(),
            CircuitsByPhase = phases,
            CircuitsByVerdict = verdicts,
            OpenAlertsBySeverity = alerts,
            Devices = devices,
        };
    }

    private static void Add(SortedDictionary<string, long> counts, string word, long count) =>
        counts[word] = counts.GetValueOrDefault(word) + count;
}
