using System.Diagnostics;

namespace FleetLight.Benchmarks;

/// <summary>(c) Status reads per second, in full and 304, beside a fixed answer of 1.5 KB of the same server.</summary>
internal static class Reading
{
    private const int Connections = 8;

    /// <summary>Measures.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        Console.WriteLine("Reads");
        await fleet.BuildAsync([.. Enumerable.Range(0, 200).Select(index => ($"s{index / 40}", $"k{index}"))]);
        await running.CaughtUpAsync();
        string[] paths = [.. Enumerable.Range(0, 200).Select(index => $"/v1/circuits/k{index}")];
        using var http = await RawHttp.ConnectAsync(fleet.Port);
        var full = new List<byte[]>();
        var known = new List<byte[]>();
        var size = 0;
        foreach (var path in paths)
        {
            var request = RawHttp.Request("GET", path, fleet.ReadKey);
            var (_, body, head) = await http.SendAsync(request, wantHead: true);
            size = body.Length;
            var tag = head.Split("ETag: ")[1].Split('\r')[0];
            full.Add(request);
            known.Add(RawHttp.Request("GET", path, fleet.ReadKey, more: $"If-None-Match: {tag}\r\n"));
        }

        var fixedRequests = new List<byte[]> { RawHttp.Request("GET", Server.FixedPath, fleet.ReadKey) };
        await MeasureAsync(fleet, fixedRequests, 200, 2);
        var fixedRate = new List<double>();
        var fullRates = new List<(double Rate, double P99)>();
        var knownRates = new List<(double Rate, double P99)>();
        for (var round = 0; round < 3; round++)
        {
            fixedRate.Add((await MeasureAsync(fleet, fixedRequests, 200, 3)).Rate);
            fullRates.Add(await MeasureAsync(fleet, full, 200, 3));
            knownRates.Add(await MeasureAsync(fleet, known, 304, 3));
        }

        var limit = Report.Percentile(fixedRate, 0.5);
        var (fullMedian, knownMedian) = (fullRates.OrderBy(each => each.Rate).ElementAt(1), knownRates.OrderBy(each => each.Rate).ElementAt(1));
        report.Add($"(c) full status reads/s ({size:N0} bytes), p99 {fullMedian.P99:0.0} ms", $"{fullMedian.Rate:N0}", $"fixed 1.5 KB {limit:N0}", fullMedian.Rate / limit, "0.5");
        report.Add($"(c) 304 status reads/s, p99 {knownMedian.P99:0.0} ms", $"{knownMedian.Rate:N0}", $"fixed 1.5 KB {limit:N0}", knownMedian.Rate / limit, "0.9");
    }

    private static async Task<(double Rate, double P99)> MeasureAsync(Fleet fleet, List<byte[]> requests, int wanted, double seconds)
    {
        var watch = Stopwatch.StartNew();
        var done = await Task.WhenAll(Enumerable.Range(0, Connections).Select(lane => Task.Run(async () =>
        {
            using var http = await RawHttp.ConnectAsync(fleet.Port);
            var times = new List<double>();
            for (var index = lane; watch.Elapsed.TotalSeconds < seconds; index++)
            {
                var start = Stopwatch.GetTimestamp();
                var (status, _, _) = await http.SendAsync(requests[index % requests.Count]);
                if (status != wanted) throw new InvalidOperationException($"A read answered {status}.");
                times.Add(Stopwatch.GetElapsedTime(start).TotalMilliseconds);
            }

            return times;
        })));
        var all = done.SelectMany(times => times).ToList();
        return (all.Count / watch.Elapsed.TotalSeconds, Report.Percentile(all, 0.99));
    }
}
