using System.Diagnostics;
using FleetLight.Contracts.Facts;

namespace FleetLight.Benchmarks;

/// <summary>(d) The cost of one append and of one status read after 10 thousand and after 1 million events, and on a site of 2,000 circuits.</summary>
internal static class Growth
{
    private const int Small = 10_000;
    private const int BatchSize = 20;
    private const int Rounds = 600;

    /// <summary>Measures. <c>FLEETLIGHT_BENCH_EVENTS</c> sets another size than a million.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        var large = int.Parse(Environment.GetEnvironmentVariable("FLEETLIGHT_BENCH_EVENTS") ?? "1000000", System.Globalization.CultureInfo.InvariantCulture);
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        var circuits = Enumerable.Range(0, 330).Select(index => ($"s{index / 20}", $"k{index}")).ToArray();
        await fleet.BuildAsync(circuits);
        await running.CaughtUpAsync();
        await MeasureAsync(running, fleet, "s0", i => $"k{i % 20}");
        var few = await MeasureAsync(running, fleet, "s0", i => $"k{i % 20}");
        Console.WriteLine($"Growth: {await running.EventsAsync():N0} events; now to {large:N0}");
        await FillAsync(running, fleet, circuits, large);
        var many = await MeasureAsync(running, fleet, "s0", i => $"k{i % 20}");
        await fleet.BuildAsync([.. Enumerable.Range(0, 2000).Select(index => ("big", $"big{index}"))]);
        await running.CaughtUpAsync();
        // As many circuits as on the small site, so that only the site differs.
        var onBig = await MeasureAsync(running, fleet, "big", i => $"big{i % 20 * 97}");
        Tell(report, $"{large:N0} events beside {Small:N0}", many, few);
        Tell(report, "a site of 2,000 circuits beside one of 20", onBig, many);
    }

    private static void Tell(Report report, string what, Costs costs, Costs beside)
    {
        report.Add($"(d) append of 20, p99, {what}", $"{costs.Append:0.0} ms", $"{beside.Append:0.0} ms", costs.Append / beside.Append, "at most 1.3");
        report.Add($"(d) append to status, p99, {what}", $"{costs.Shown:0.0} ms", $"{beside.Shown:0.0} ms", costs.Shown / beside.Shown);
        report.Add($"(d) status read, p99, {what}", $"{costs.Read:0.00} ms", $"{beside.Read:0.00} ms", costs.Read / beside.Read, "at most 1.3");
    }

    private static async Task FillAsync(Server running, Fleet fleet, (string, string)[] circuits, int events)
    {
        var left = (int)(events - await running.EventsAsync());
        await Task.WhenAll(Enumerable.Range(0, 4).Select(async lane =>
        {
            var device = await fleet.AddDeviceAsync();
            for (var batch = lane; batch * 1000 < left; batch += 4)
            {
                var facts = Enumerable.Range(0, 1000).Select(index => circuits[(batch * 50 + index / 20) % circuits.Length])
                    .Select((each, index) => (IFact)Facts.Reading(each.Item1, each.Item2, index)).ToArray();
                await device.SendAsync(device.Prepare(facts), facts.Length);
            }
        }));
        await running.CaughtUpAsync();
    }

    private static async Task<Costs> MeasureAsync(Server running, Fleet fleet, string site, Func<int, string> circuit)
    {
        var device = await fleet.AddDeviceAsync();
        using var http = await RawHttp.ConnectAsync(fleet.Port);
        var (appends, shown, reads) = (new List<double>(), new List<double>(), new List<double>());
        for (var round = 0; round < Rounds; round++)
        {
            var facts = Enumerable.Range(0, BatchSize).Select(index => (IFact)Facts.Reading(site, circuit(round * 4 + index / 5), index)).ToArray();
            var request = device.Prepare(facts);
            var start = Stopwatch.GetTimestamp();
            await device.SendAsync(request, BatchSize);
            appends.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            await running.CaughtUpAsync();
            shown.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            // Changed just now, so this read goes to the store.
            var read = RawHttp.Request("GET", $"/v1/circuits/{circuit(round * 4)}", fleet.ReadKey);
            start = Stopwatch.GetTimestamp();
            await http.SendAsync(read);
            reads.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
        }

        return new Costs(Report.Percentile(appends, 0.99), Report.Percentile(shown, 0.99), Report.Percentile(reads, 0.99));
    }

    private sealed record Costs(double Append, double Shown, double Read);
}
