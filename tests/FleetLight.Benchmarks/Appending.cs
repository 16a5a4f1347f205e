using System.Diagnostics;
using FleetLight.Contracts.Facts;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Benchmarks;

/// <summary>(a) Durable facts per second through HTTP in batches of 100 from 4 devices, the projection keeping up.</summary>
internal static class Appending
{
    private const int Circuits = 2000;
    private const int BatchSize = 100;

    /// <summary>Measures install work, rounds of readings, and both mixed.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        var built = Enumerable.Range(0, Circuits).Select(index => ($"s{index / 40}", $"k{index}")).ToArray();
        Console.WriteLine($"Appending: building a fleet of {Circuits} circuits");
        await fleet.BuildAsync(built);
        await running.CaughtUpAsync();
        var limit = await PlainTable.MeasureAsync(server, await RowsAsync(running));

        var fresh = 0;
        IEnumerable<IFact> Install() => Enumerable.Range(0, 4).SelectMany(_ =>
        {
            var index = Interlocked.Increment(ref fresh);
            return Facts.Job($"n{index / 40}", $"n{index}");
        }).Take(BatchSize);
        var rounds = 0;
        IEnumerable<IFact> Round() => Enumerable.Range(0, 25).SelectMany(_ =>
        {
            var (site, circuit) = built[Interlocked.Increment(ref rounds) % Circuits];
            return Enumerable.Range(0, 4).Select(number => (IFact)Facts.Reading(site, circuit, number));
        });
        var turn = 0;
        IEnumerable<IFact> Mixed() => Interlocked.Increment(ref turn) % 2 == 0 ? Install() : Round();

        // Long enough for the just-in-time compiler to be done.
        await MeasureAsync(running, fleet, Mixed, 4, 800);
        foreach (var (name, make, batches) in new (string, Func<IEnumerable<IFact>>, int)[]
                 {
                     ("readings, 25 circuits a batch", Round, 2000), ("install work, 4 circuits a batch", Install, 800), ("both, in turns", Mixed, 1600),
                 })
        {
            var rate = await MeasureAsync(running, fleet, make, 4, batches);
            report.Add($"(a) facts/s, 4 devices: {name}", $"{rate:N0}", $"plain table {limit:N0}", rate / limit, "0.2");
            if (make == (Func<IEnumerable<IFact>>)Mixed) report.SustainedRate = rate;
        }

        // Every device writes to the same 25 circuits; a failed batch ends the run with its answer.
        IEnumerable<IFact> SameCircuits() => Enumerable.Range(0, 25).SelectMany(index =>
            Enumerable.Range(0, 4).Select(number => (IFact)Facts.Reading(built[index].Item1, built[index].Item2, number)));
        var shared = await MeasureAsync(running, fleet, SameCircuits, 16, 800);
        report.Add("(a) facts/s, 16 devices on the same circuits, no batch failed", $"{shared:N0}", $"plain table {limit:N0}", shared / limit);
    }

    private static async Task<double> MeasureAsync(Server running, Fleet fleet, Func<IEnumerable<IFact>> make, int lanes, int batches)
    {
        var prepared = new List<(Device Device, List<(byte[] Request, int Facts)> Batches)>();
        for (var lane = 0; lane < lanes; lane++)
        {
            var device = await fleet.AddDeviceAsync();
            var requests = new List<(byte[], int)>();
            for (var batch = 0; batch < batches / lanes; batch++)
            {
                var facts = make().ToArray();
                requests.Add((device.Prepare(facts), facts.Length));
            }

            prepared.Add((device, requests));
        }

        var total = prepared.Sum(each => each.Batches.Sum(batch => batch.Facts));
        GC.Collect();
        var before = running.ProcessorSeconds();
        var watch = Stopwatch.StartNew();
        await Task.WhenAll(prepared.Select(each => Task.Run(async () =>
        {
            foreach (var (request, facts) in each.Batches) await each.Device.SendAsync(request, facts);
        })));
        var accepted = watch.Elapsed.TotalSeconds;
        await running.CaughtUpAsync();
        var sustained = watch.Elapsed.TotalSeconds;
        var after = running.ProcessorSeconds();
        Console.WriteLine(
            $"    {total:N0} facts accepted at {total / accepted:N0}/s, projected at {total / sustained:N0}/s; processor time a fact: "
            + $"service {(after.Service - before.Service) / total * 1e6:0} µs, database {(after.Database - before.Database) / total * 1e6:0} µs");
        return total / sustained;
    }

    private static async Task<List<byte[]>> RowsAsync(Server running)
    {
        await using var database = NpgsqlDataSource.Create(running.Connection);
        await using var command = database.CreateCommand($"select data::text from {Tables.Schema}.mt_events order by seq_id limit 40000");
        await using var reader = await command.ExecuteReaderAsync();
        var rows = new List<byte[]>();
        while (await reader.ReadAsync()) rows.Add(System.Text.Encoding.UTF8.GetBytes(reader.GetString(0)));
        return rows;
    }
}
