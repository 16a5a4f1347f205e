using System.Diagnostics;

namespace FleetLight.Benchmarks.LargeFleet;

/// <summary>How long asking takes, again and again.</summary>
/// <param name="Median">Half of the answers came within so many ms.</param>
/// <param name="P99">99 of 100 came within so many ms.</param>
internal sealed record Pace(double Median, double P99)
{
    /// <summary>Asks in turns through the service and of the database itself, so that what else the machine does meets both.</summary>
    public static async Task<(Pace Service, Pace Raw)> CompareAsync(int rounds, Func<int, Task> service, Func<int, Task> raw)
    {
        var (ours, theirs) = (new List<double>(), new List<double>());
        for (var round = -2; round < rounds; round++)
        {
            var start = Stopwatch.GetTimestamp();
            await service(Math.Max(0, round));
            var between = Stopwatch.GetTimestamp();
            await raw(Math.Max(0, round));
            // The first two warm up what is asked.
            if (round < 0) continue;
            ours.Add(Stopwatch.GetElapsedTime(start, between).TotalMilliseconds);
            theirs.Add(Stopwatch.GetElapsedTime(between).TotalMilliseconds);
        }

        return (Of(ours), Of(theirs));
    }

    /// <summary>Tells both.</summary>
    public static void Tell(Report report, string what, (Pace Service, Pace Raw) pace, string beside) => report.Add(
        $"(j) {what}, p50 and p99", $"{pace.Service.Median:0.0} and {pace.Service.P99:0.0} ms", $"{beside} {pace.Raw.Median:0.0} and {pace.Raw.P99:0.0} ms",
        pace.Service.Median / pace.Raw.Median);

    private static Pace Of(List<double> times) => new(Report.Percentile(times, 0.5), Report.Percentile(times, 0.99));
}
