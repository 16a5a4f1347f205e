using System.Globalization;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>
/// (h) How often the diagnosis names the fault that was put in, beside an optimal classifier on the same readings,
/// and how many readings the next measurement needs beside plainer ways.
/// </summary>
internal static class DiagnosisBenchmark
{
    private const int Seed = 20251;
    private const int MostFittings = 40;

    /// <summary>Measures.</summary>
    public static void Run(Report report)
    {
        var circuits = int.TryParse(
            Environment.GetEnvironmentVariable("FLEETLIGHT_BENCH_CIRCUITS"), NumberStyles.None,
            CultureInfo.InvariantCulture, out var wanted) && wanted > 0 ? wanted : 1000;
        Console.WriteLine($"Diagnosis: {circuits:N0} circuits of 2 to {MostFittings} fittings, seed {Seed}");
        var evenOptions = Suspects.EvenOptions;
        Faults(report, "(h) normal deviations", false, circuits, evenOptions, print: true);
        Faults(report, "(h) deviations as stated", true, circuits, evenOptions, print: false);
        Healthy(report, circuits);
        foreach (var differ in new[] { true, false }) Hunting(report, Math.Max(20, circuits / 5), differ);
    }

    private static void Faults(
        Report report, string what, bool asStated, int circuits, DiagnosisOptions options, bool print)
    {
        var tally = new Tally(All(circuits, seed => Trials.Run(seed, MostFittings, asStated, options, Suspects.Even)));
        if (print) Console.WriteLine(tally.Confusion());
        Line(report, $"{what}, top-1, distinguishable ({tally.DistinguishableShare:P0})",
            tally.DistinguishableTop1, tally.DistinguishableBest1, "0.95");
        Line(report, $"{what}, top-3, distinguishable", tally.DistinguishableTop3, tally.DistinguishableBest3, "");
        Line(report, $"{what}, top-1, all", tally.Top1, tally.Best1, "");
        report.Add($"{what}, how sure it is of what it names first", Percent(tally.Sure),
            $"right {Percent(tally.Top1)}; optimal {Percent(tally.BestSure)}, right {Percent(tally.Best1)}",
            tally.Sure / tally.Top1, "1");
    }

    private static void Healthy(Report report, int circuits)
    {
        var healthy = All(circuits, seed => Trials.Run(
            seed, MostFittings, true, DiagnosisOptions.Default, Suspects.Stated, healthy: true));
        report.Add("(h) false alarms on healthy circuits", Percent(healthy.Average(t => 1 - t.Top1)),
            $"optimal {Percent(healthy.Average(t => 1 - t.Best1))}");
    }

    private static void Hunting(Report report, int circuits, bool differ)
    {
        var hunts = All(circuits, seed => Hunts.Run(seed, differ));
        var what = differ ? "efforts differ" : "equal efforts";
        double Mean(Way way, Func<HuntResult, double> of) => hunts.Average(h => of(h[(int)way]));
        foreach (var way in Enum.GetValues<Way>())
        {
            var name = way == Way.NextMeasurement ? "next measurement" : way == Way.Halving ? "halving" : "box by box";
            report.Add($"(h) {name}, {what}: readings to the end",
                Figure(Mean(way, h => h.Readings)), $"halving {Figure(Mean(Way.Halving, h => h.Readings))}",
                Mean(way, h => h.Readings) / Mean(Way.Halving, h => h.Readings),
                way == Way.NextMeasurement && differ ? "at most 0.7" : "");
            report.Add($"(h) {name}, {what}: minutes; right in the end",
                $"{Figure(Mean(way, h => h.Minutes))}; {Percent(Mean(way, h => h.IsRight ? 1 : 0))}",
                $"halving {Figure(Mean(Way.Halving, h => h.Minutes))}",
                Mean(way, h => h.Minutes) / Mean(Way.Halving, h => h.Minutes));
        }
    }

    private static T[] All<T>(int count, Func<int, T> one)
    {
        var all = new T[count];
        Parallel.For(0, count, i => all[i] = one(Seed + i));
        return all;
    }

    private static void Line(Report report, string what, double ours, double best, string aim) =>
        report.Add(what, Percent(ours), $"optimal {Percent(best)}", ours / best, aim);

    private static string Percent(double share) => (100 * share).ToString("0.0", CultureInfo.InvariantCulture) + " %";

    private static string Figure(double value) => value.ToString("0.00", CultureInfo.InvariantCulture);
}
