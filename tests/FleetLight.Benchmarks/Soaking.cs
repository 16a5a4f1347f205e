using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Service.Store;
using Npgsql;

namespace FleetLight.Benchmarks;

/// <summary>
/// A fleet of 500 devices for minutes on end: each hands in a few readings now and then, at times a whole job, a correction or a
/// batch for the second time; dashboards poll. Each minute memory, connections, lag and tables are printed.
/// </summary>
internal static class Soaking
{
    private const int Devices = 500;
    private const int Connections = 25;
    private const int Readers = 4;

    // Batches a second of the whole fleet: a third of what the service takes on two cores, so that the machine is busy and not full.
    private const int BatchesASecond = 100;

    /// <summary>Runs it and reports whether what is measured is flat after warm-up.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        var minutes = int.TryParse(Environment.GetEnvironmentVariable("FLEETLIGHT_BENCH_MINUTES"), CultureInfo.InvariantCulture, out var given) ? given : 15;
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        (string Site, string Circuit)[] circuits = [.. Enumerable.Range(0, Devices).Select(index => ($"site-{index / 10}", $"circuit-{index}"))];
        await fleet.BuildAsync(circuits);
        SiteOpened[] sites = [.. circuits.Select(each => each.Site).Distinct().Select(site => new SiteOpened { SiteId = site, Name = site })];
        var opener = await fleet.AddDeviceAsync();
        await opener.SendAsync(opener.Prepare(sites), sites.Length);
        await running.CaughtUpAsync();
        var devices = new ConcurrentQueue<(Device Device, string Circuit, string Site)>();
        for (var index = 0; index < Devices; index++)
            devices.Enqueue((await fleet.AddDeviceAsync(), circuits[index].Circuit, circuits[index].Site));

        Console.WriteLine($"    soak: {Devices} devices, {BatchesASecond} batches/s, {minutes} minutes");
        var minutesSeen = new List<SoakMinute>();
        using var end = new CancellationTokenSource(TimeSpan.FromMinutes(minutes));
        var counts = new SoakCounts();
        var work = Enumerable.Range(0, Connections).Select(lane => WriteAsync(lane, devices, counts, end.Token))
            .Concat(Enumerable.Range(0, Readers).Select(lane => ReadAsync(lane, fleet, circuits, counts, end.Token))).ToArray();
        var watch = Stopwatch.StartNew();
        for (var minute = 1; minute <= minutes; minute++)
        {
            var left = TimeSpan.FromMinutes(minute) - TimeSpan.FromSeconds(1) - watch.Elapsed;
            // Work that fails ends it at once; work ends well only with the time.
            if (left > TimeSpan.Zero && await Task.WhenAny([Task.Delay(left), .. work]) is { IsFaulted: true } failed) await failed;
            minutesSeen.Add(await SoakMinute.TakeAsync(minute, running, counts.Take()));
            Console.WriteLine($"    {minutesSeen[^1].Line}");
        }

        await Task.WhenAll(work);
        await running.CaughtUpAsync();
        SoakRule.Judge(minutesSeen, report);
    }

    private static async Task WriteAsync(
        int lane, ConcurrentQueue<(Device Device, string Circuit, string Site)> devices, SoakCounts counts, CancellationToken end)
    {
        var dice = new Random(lane);
        using var timer = new PeriodicTimer(TimeSpan.FromSeconds((double)Connections / BatchesASecond));
        try
        {
            while (await timer.WaitForNextTickAsync(end))
            {
                // A device is one sender: nobody else has it meanwhile.
                if (!devices.TryDequeue(out var each)) continue;
                var facts = Batch(each.Circuit, each.Site, dice);
                var request = each.Device.Prepare(facts);
                await each.Device.SendAsync(request, facts.Length);
                if (dice.Next(20) == 0) await each.Device.SendAgainAsync(request);
                counts.Sent(facts.Length);
                devices.Enqueue(each);
            }
        }
        catch (OperationCanceledException) when (end.IsCancellationRequested)
        {
            // The time is over.
        }
    }

    private static IFact[] Batch(string circuit, string site, Random dice) => dice.Next(40) switch
    {
        0 => [new FaultReported { SiteId = site, CircuitId = circuit, FaultId = $"fault-{dice.Next(4)}", What = "It flickers." }],
        1 =>
        [
            new BoxSealed
            {
                SiteId = site,
                BoxId = $"b-{circuit}",
                Lie = BoxLie.FlatInGround,
                Entry = BoxEntry.Glands,
                StrainRelief = true,
                GelFilled = dice.Next(2) == 0,
                Breathing = false,
            },
        ],
        2 => [new DuctLabelled { SiteId = site, DuctId = $"d-{circuit}", Label = $"L{dice.Next(5)}" }],
        _ =>
        [
            .. Enumerable.Range(0, dice.Next(1, 9)).Select(_ => new ReadingTaken
            {
                SiteId = site,
                CircuitId = circuit,
                Place = ReadingPlaceKind.Driver,
                Quantity = ReadingQuantity.VoltsDc,
                Value = 18.2 + dice.NextDouble(),
            }),
        ],
    };

    private static async Task ReadAsync(
        int lane, Fleet fleet, (string Site, string Circuit)[] circuits, SoakCounts counts, CancellationToken end)
    {
        var dice = new Random(1000 + lane);
        using var http = await RawHttp.ConnectAsync(fleet.Port);
        using var timer = new PeriodicTimer(TimeSpan.FromMilliseconds(10));
        try
        {
            while (await timer.WaitForNextTickAsync(end))
            {
                var path = dice.Next(10) switch
                {
                    0 => "/v1/alerts?limit=20",
                    1 => "/v1/changes?after=now",
                    2 => $"/v1/sites/{circuits[dice.Next(circuits.Length)].Site}",
                    _ => $"/v1/circuits/{circuits[dice.Next(circuits.Length)].Circuit}",
                };
                var (status, _, _) = await http.SendAsync(RawHttp.Request("GET", path, fleet.ReadKey));
                if (status != 200) throw new InvalidOperationException($"{path} answered {status}.");
                counts.Read();
            }
        }
        catch (OperationCanceledException) when (end.IsCancellationRequested)
        {
            // The time is over.
        }
    }
}

/// <summary>What was sent and read since it was last asked.</summary>
internal sealed class SoakCounts
{
    private long facts;
    private long reads;

    /// <summary>Facts were taken.</summary>
    public void Sent(int more) => Interlocked.Add(ref facts, more);

    /// <summary>A read was answered.</summary>
    public void Read() => Interlocked.Increment(ref reads);

    /// <summary>Both, which begin again at zero.</summary>
    public (long Facts, long Reads) Take() => (Interlocked.Exchange(ref facts, 0), Interlocked.Exchange(ref reads, 0));
}

/// <summary>One minute of a soak.</summary>
/// <param name="Minute">Which.</param>
/// <param name="Megabytes">Working set of the service.</param>
/// <param name="Connections">Connections to the database.</param>
/// <param name="Behind">Events that the projection had still to take in.</param>
/// <param name="StateBytes">Bytes of the tables that must not grow with the history: states and circuits, with their indexes.</param>
/// <param name="Events">Events in the store.</param>
/// <param name="TableBytes">Bytes of all tables.</param>
/// <param name="Facts">Facts taken in that minute.</param>
/// <param name="Reads">Reads answered in that minute.</param>
internal sealed record SoakMinute(
    int Minute, double Megabytes, long Connections, long Behind, long StateBytes, long Events, long TableBytes, long Facts, long Reads)
{
    /// <summary>As it is printed.</summary>
    public string Line => string.Create(CultureInfo.InvariantCulture,
        $"minute {Minute,3}: {Megabytes:0} MB, {Connections} connections, {Behind} behind, states {StateBytes / 1e6:0.0} MB, tables {TableBytes / 1e6:0} MB, "
        + $"{Events:N0} events ({(double)TableBytes / Events:0} bytes each), {Facts:N0} facts, {Reads:N0} reads");

    /// <summary>Takes it.</summary>
    public static async Task<SoakMinute> TakeAsync(int minute, Server running, (long Facts, long Reads) counts)
    {
        await using var command = running.Database.CreateCommand(
            $"""
            select (select count(*) from pg_stat_activity where datname = current_database()),
                   (select coalesce(max(seq_id), 0) from {Tables.Schema}.mt_events)
                     - (select coalesce(max(last_seq_id), 0) from {Tables.Schema}.mt_event_progression where name = 'works:All'),
                   pg_total_relation_size('{Tables.Schema}.fl_state') + pg_total_relation_size('{Tables.Schema}.fl_circuit'),
                   (select count(*) from {Tables.Schema}.mt_events),
                   (select sum(pg_total_relation_size(oid))::bigint from pg_class where relkind = 'r' and relnamespace = '{Tables.Schema}'::regnamespace)
            """);
        await using NpgsqlDataReader row = await command.ExecuteReaderAsync();
        await row.ReadAsync();
        return new SoakMinute(
            minute, running.WorkingSet / 1e6, row.GetInt64(0), row.GetInt64(1), row.GetInt64(2), row.GetInt64(3), row.GetInt64(4), counts.Facts, counts.Reads);
    }
}

/// <summary>
/// The rule of what is flat: the first third is warm-up. Of the rest, the median of the last half is not above that of the first
/// half by more than a tenth (memory), not at all beyond 2 (connections), and the lag never beyond two seconds' worth of facts.
/// Tables grow with what is recorded: their bytes for each event may not grow by more than a tenth.
/// </summary>
internal static class SoakRule
{
    /// <summary>Reports each with its verdict.</summary>
    public static void Judge(List<SoakMinute> minutes, Report report)
    {
        if (minutes.Count < 6)
        {
            Console.WriteLine("    Too short to say whether it is flat: 6 minutes at least.");
            return;
        }

        var after = minutes[(minutes.Count / 3)..];
        var (early, late) = (after[..(after.Count / 2)], after[(after.Count / 2)..]);
        Add("memory, MB", Median(early, each => each.Megabytes), Median(late, each => each.Megabytes), 1.1);
        Add("connections", Median(early, each => each.Connections), Median(late, each => each.Connections), 1 + 2 / Median(early, each => each.Connections));
        Add("bytes of tables for each event", Median(early, each => (double)each.TableBytes / each.Events), Median(late, each => (double)each.TableBytes / each.Events), 1.1);
        var facts = Median(after, each => each.Facts) / 60;
        report.Add($"soak: most events behind in {after.Count} minutes", $"{after.Max(each => each.Behind):N0}", $"2 s of facts {2 * facts:N0}",
            after.Max(each => each.Behind) / (2 * facts), "at most 1");

        void Add(string what, double first, double last, double most) => report.Add(
            $"soak: {what}, last {late.Count} minutes beside {early.Count} before", $"{last:0.#}", $"{first:0.#}", last / first,
            string.Create(CultureInfo.InvariantCulture, $"at most {most:0.##}"));
    }

    private static double Median(IEnumerable<SoakMinute> minutes, Func<SoakMinute, double> value)
    {
        double[] sorted = [.. minutes.Select(value).Order()];
        return sorted[sorted.Length / 2];
    }
}
