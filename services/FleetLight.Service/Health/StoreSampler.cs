using FleetLight.Contracts.Views;
using FleetLight.Service.Alerts;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Health;

/// <summary>Asks the store every few seconds what stands in it, for the measures.</summary>
public sealed class StoreSampler(NpgsqlDataSource database, StoreGauges gauges, TimeProvider clock, ILogger<StoreSampler> log) : BackgroundService
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(10);

    // Each part reads the end of an index, or the few rows of one value in it.
    private static readonly string Ask =
        $"""
        with done as (select coalesce((
            select last_seq_id from {Tables.Schema}.mt_event_progression where name = '{WorksProjection.Name}:All'), 0) as through)
        select coalesce((select max(seq_id) from {Tables.Schema}.mt_events), 0) - (select through from done),
               (select timestamp from {Tables.Schema}.mt_events where seq_id > (select through from done) order by seq_id limit 1),
               (select count(*) from {Tables.Schema}.mt_doc_deadletterevent),
               (select count(*) from {Tables.Schema}.mt_doc_delivery where state = {(int)DeliveryState.Waiting}),
               (select count(*) from {Tables.Schema}.mt_doc_delivery where state = {(int)DeliveryState.Parked}),
               (select min((data ->> 'createdAt')::timestamptz) from {Tables.Schema}.mt_doc_delivery where state = {(int)DeliveryState.Waiting})
        """;

    private static readonly string AskAlerts =
        $"""
        select severity, count(*) from {Tables.Schema}.mt_doc_alertdocument
        where standing in ({(int)AlertStanding.Raised}, {(int)AlertStanding.Acknowledged}) group by severity
        """;

    /// <inheritdoc/>
    protected override async Task ExecuteAsync(CancellationToken stoppingToken)
    {
        using var timer = new PeriodicTimer(Every);
        try
        {
            do
            {
                gauges.Show(await TryAskAsync(stoppingToken));
            }
            while (await timer.WaitForNextTickAsync(stoppingToken));
        }
        catch (OperationCanceledException) when (stoppingToken.IsCancellationRequested)
        {
            // The service ends.
        }
    }

    private async Task<StoreSample?> TryAskAsync(CancellationToken cancel)
    {
        try
        {
            return await AskAsync(cancel);
        }
        catch (Exception failed) when (failed is NpgsqlException or TimeoutException or IOException)
        {
            log.LogDebug(failed, "The store could not be asked for measures");
            return null;
        }
    }

    private async Task<StoreSample> AskAsync(CancellationToken cancel)
    {
        await using var connection = await database.OpenConnectionAsync(cancel);
        var alerts = new Dictionary<AlertSeverity, long>();
        await using (var command = new NpgsqlCommand(AskAlerts, connection) { CommandTimeout = 5 })
        await using (var rows = await command.ExecuteReaderAsync(cancel))
        {
            while (await rows.ReadAsync(cancel)) alerts[(AlertSeverity)rows.GetInt32(0)] = rows.GetInt64(1);
        }

        await using var asked = new NpgsqlCommand(Ask, connection) { CommandTimeout = 5 };
        await using var row = await asked.ExecuteReaderAsync(cancel);
        await row.ReadAsync(cancel);
        return new StoreSample
        {
            Behind = Math.Max(0, row.GetInt64(0)),
            BehindSeconds = Age(row, 1),
            Unread = row.GetInt64(2),
            Alerts = alerts,
            Waiting = row.GetInt64(3),
            Parked = row.GetInt64(4),
            WaitingSeconds = Age(row, 5),
        };
    }

    private double Age(NpgsqlDataReader row, int column) => row.IsDBNull(column)
        ? 0
        : Math.Max(0, (clock.GetUtcNow() - row.GetFieldValue<DateTimeOffset>(column)).TotalSeconds);
}
