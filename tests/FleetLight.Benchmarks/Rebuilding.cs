using System.Diagnostics;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Circuits;
using FleetLight.Service.Store;
using FleetLight.Service.Works;
using JasperFx.Events.Projections;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;

namespace FleetLight.Benchmarks;

/// <summary>(e) Rebuild of the projection, events per second, beside a plain read and decode of the same events in order.</summary>
internal static class Rebuilding
{
    /// <summary>Measures.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        Console.WriteLine("Rebuild: building 2,000 circuits and 150 readings each");
        var circuits = Enumerable.Range(0, 2000).Select(index => ($"s{index / 40}", $"k{index}")).ToArray();
        await fleet.BuildAsync(circuits);
        await Task.WhenAll(Enumerable.Range(0, 4).Select(async lane =>
        {
            var device = await fleet.AddDeviceAsync();
            for (var round = lane; round < 300; round += 4)
            {
                var facts = Enumerable.Range(0, 1000).Select(index => circuits[(round * 1000 + index) % circuits.Length])
                    .Select((each, index) => (IFact)Facts.Reading(each.Item1, each.Item2, index)).ToArray();
                await device.SendAsync(device.Prepare(facts), facts.Length);
            }
        }));
        await running.CaughtUpAsync();
        var events = await running.EventsAsync();
        await running.StopAsync();

        var plain = events / (await ReadAsync(running.Connection)).TotalSeconds;
        var watch = Stopwatch.StartNew();
        await RebuildAsync(running.Connection);
        var rate = events / watch.Elapsed.TotalSeconds;
        report.Add($"(e) rebuild of {events:N0} events, events/s", $"{rate:N0}", $"plain read and decode {plain:N0}", rate / plain, "0.3");
    }

    private static async Task RebuildAsync(string connection)
    {
        await using var database = MartenSetup.Database(connection);
        await using var services = new ServiceCollection().AddLogging().AddMetrics().AddSingleton(TimeProvider.System).AddSingleton(database)
            .AddSingleton<WorksMetrics>().AddSingleton<WorksWatch>().AddSingleton<WorksFolds>().AddSingleton<BasisCache>().AddSingleton<PageParts>()
            .AddSingleton<WorksProjection>().BuildServiceProvider();
        using var store = DocumentStore.For(options =>
        {
            options.Connection(database);
            MartenSetup.Configure(options);
            options.Projections.Add(
                services.GetRequiredService<WorksProjection>(), ProjectionLifecycle.Async, WorksProjection.Name, WorksProjection.Tune);
        });
        using var daemon = await store.BuildProjectionDaemonAsync();
        await daemon.RebuildProjectionAsync(WorksProjection.Name, TimeSpan.FromMinutes(30), CancellationToken.None);
    }

    private static async Task<TimeSpan> ReadAsync(string connection)
    {
        await using var database = NpgsqlDataSource.Create(connection);
        var watch = Stopwatch.StartNew();
        await using var command = database.CreateCommand($"select data, type from {Tables.Schema}.mt_events order by seq_id");
        await using var reader = await command.ExecuteReaderAsync();
        var types = FactTypes.All.ToDictionary(pair => pair.Key, pair => typeof(Kept<>).MakeGenericType(pair.Value));
        while (await reader.ReadAsync())
        {
            if (!types.TryGetValue(reader.GetString(1), out var type)) continue;
            JsonSerializer.Deserialize(reader.GetFieldValue<byte[]>(0), type, WireJson.Lenient);
        }

        return watch.Elapsed;
    }
}
