using System.Diagnostics;
using System.Text;
using FleetLight.Contracts.Facts;

namespace FleetLight.Benchmarks;

/// <summary>(b) From the receipt of a reading to the status that shows it, under half of the sustained load.</summary>
internal static class Lag
{
    /// <summary>Measures.</summary>
    public static async Task RunAsync(string server, Report report)
    {
        await using var running = await Server.StartAsync(server);
        var fleet = new Fleet(running.Port, running.FirstKey);
        await fleet.OpenAsync();
        Console.WriteLine($"Lag: at {report.SustainedRate / 2:N0} facts/s");
        var built = Enumerable.Range(0, 1000).Select(index => ($"s{index / 40}", $"k{index}")).ToArray();
        await fleet.BuildAsync(built);
        await running.CaughtUpAsync();
        using var end = new CancellationTokenSource();
        var load = Enumerable.Range(0, 4).Select(lane => LoadAsync(fleet, built, lane, report.SustainedRate / 2 / 4, end.Token)).ToArray();
        var lags = await ProbeAsync(fleet, 400);
        await end.CancelAsync();
        await Task.WhenAll(load);
        report.Add("(b) receipt to status, half load, p50", $"{Report.Percentile(lags, 0.5):0.0} ms");
        report.Add("(b) receipt to status, half load, p99", $"{Report.Percentile(lags, 0.99):0.0} ms", aim: "under 100 ms");
    }

    private static async Task LoadAsync(Fleet fleet, (string, string)[] built, int lane, double rate, CancellationToken end)
    {
        var device = await fleet.AddDeviceAsync();
        var watch = Stopwatch.StartNew();
        var sent = 0;
        for (var round = lane * 250; !end.IsCancellationRequested; round += 25)
        {
            IFact[] facts = round / 25 % 2 == 0
                ? [.. Enumerable.Range(0, 4).SelectMany(index => Facts.Job($"x{lane}", $"x{lane}-{round}-{index}")).Take(100)]
                : [.. Enumerable.Range(round, 25).SelectMany(index => Enumerable.Range(0, 4)
                    .Select(number => (IFact)Facts.Reading(built[index % 1000].Item1, built[index % 1000].Item2, number)))];
            await device.SendAsync(device.Prepare(facts), facts.Length);
            sent += facts.Length;
            var ahead = sent / rate - watch.Elapsed.TotalSeconds;
            if (ahead > 0) await Task.Delay(TimeSpan.FromSeconds(ahead), CancellationToken.None);
        }
    }

    private static async Task<List<double>> ProbeAsync(Fleet fleet, int probes)
    {
        var device = await fleet.AddDeviceAsync();
        using var http = await RawHttp.ConnectAsync(fleet.Port);
        await device.SendAsync(device.Prepare([.. Facts.Job("probe", "probe")]), Facts.Job("probe", "probe").Count());
        var status = RawHttp.Request("GET", "/v1/circuits/probe", fleet.ReadKey);
        var lags = new List<double>();
        for (var probe = 0; probe < probes; probe++)
        {
            var value = 18.5 + probe * 0.0001;
            var request = device.Prepare([Facts.Reading("probe", "probe", 0) with { Value = value }]);
            var mark = Encoding.UTF8.GetBytes($"\"value\":{value.ToString(System.Globalization.CultureInfo.InvariantCulture)},");
            await device.SendAsync(request, 1);
            var watch = Stopwatch.StartNew();
            while (true)
            {
                var (_, body, _) = await http.SendAsync(status);
                if (body.Span.IndexOf(mark) >= 0) break;
                if (watch.Elapsed.TotalSeconds > 20) throw new TimeoutException("The status never showed the reading.");
                await Task.Delay(1);
            }

            if (probe >= 20) lags.Add(watch.Elapsed.TotalMilliseconds);
            await Task.Delay(20);
        }

        return lags;
    }
}
