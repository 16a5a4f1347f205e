using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Electrics;

/// <summary>
/// What one answer of the electrics costs, beside a plain dense solve of the same network in the same run: medians of
/// several batches, and the bytes that one call allocates.
/// </summary>
internal static class Speed
{
    private const int Batches = 9;
    private const double SecondsPerBatch = 0.15;

    /// <summary>Measures.</summary>
    public static void Run(Report report)
    {
        var tree = Tree(20, 1);
        var series = Series(20);
        MustAgree(tree);
        var dense = Measure(() => DenseSolve.Volts(tree));
        Beside(report, "(g) expected, 20 fittings on 24 V, with its budgets", Measure(() => Expected.Of(tree)), dense);
        var expected = Expected.Of(tree);
        var reading = new MeasuredReading("n7", MeasuredQuantity.VoltsDc, 23.4);
        Beside(report, "(g) verdict from the circuit, 20 fittings on 24 V",
            Measure(() => Verdicts.Judge(Expected.Of(tree), reading)), dense);
        Beside(report, "(g) verdict from what was worked out before",
            Measure(() => Verdicts.Judge(expected, reading)), dense);
        Beside(report, "(g) expected, 20 fittings in series", Measure(() => Expected.Of(series)), dense);
        Beside(report, "(g) diagnosis, 20 fittings on 24 V, 4 readings",
            Measure(() => Diagnosis.Explain(tree, Readings(tree))), dense);
        Beside(report, "(g) diagnosis, 20 fittings in series, 4 readings",
            Measure(() => Diagnosis.Explain(series, Readings(series))), dense);
        Beside(report, "(g) next measurement, 20 fittings on 24 V",
            Measure(() => NextMeasurement.Of(tree, Readings(tree))), dense);
        Beside(report, "(g) next measurement, 20 fittings in series",
            Measure(() => NextMeasurement.Of(series, Readings(series))), dense);
        Large(report);
    }

    // A dense matrix of 10,000 nodes takes 800 MB and a factor of some 10 minutes, so it is solved for 1,000.
    private static void Large(Report report)
    {
        var thousand = Tree(1_000, 2);
        var tenThousand = Tree(10_000, 3);
        var dense = Measure(() => DenseSolve.Volts(thousand), batches: 3);
        var small = Measure(() => Expected.Of(thousand));
        var large = Measure(() => Expected.Of(tenThousand), batches: 5);
        Beside(report, "(g) expected, 1,000 nodes", small, dense);
        report.Add("(g) expected, 10,000 nodes", Text(large), $"1,000 nodes {Text(small)}",
            large.Seconds / small.Seconds, "10 if linear");
    }

    // Speeds of two answers are worth comparing only where the answers are the same.
    private static void MustAgree(CircuitModel tree)
    {
        var bare = new Assumptions { Buried = new(20, 0), ConductorBelowMaximumPercent = 0 };
        var dense = DenseSolve.Volts(tree);
        var ours = ((ExpectedReadings)Expected.Of(tree, bare)).Nodes.ToDictionary(n => n.NodeId, n => n.VoltsDc.Best);
        for (var i = 0; i < dense.Count; i++)
        {
            if (!(Math.Abs(dense[i] - ours[tree.Runs[i].To]) < 1e-6))
                throw new InvalidOperationException("The dense solve and the circuit model disagree.");
        }
    }

    private static MeasuredReading[] Readings(CircuitModel model)
    {
        var sound = (ExpectedReadings)Expected.Of(model);
        return
        [
            new(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc, sound.DriverVoltsDc.Best),
            new(CircuitModel.DriverNode, MeasuredQuantity.Milliamps, 0.92 * sound.DriverMilliamps.Best),
            .. sound.Fittings.Skip(8).Take(2).Select(f =>
                new MeasuredReading(f.FittingId, MeasuredQuantity.VoltsDc, f.VoltsDc.Best)),
        ];
    }

    /// <summary>A tree of fittings, each on its own node, hung on one of the few before it.</summary>
    internal static CircuitModel Tree(int count, int seed)
    {
        var random = new Random(seed);
        var runs = ImmutableArray.CreateBuilder<RunModel>(count);
        for (var i = 1; i <= count; i++)
        {
            // A trunk with short side branches; thousands of nodes hang on many trunks, or the voltage would collapse.
            var aside = random.Next(4) == 0 && i % 20 > 3;
            var from = i % 20 == 1 ? CircuitModel.DriverNode : $"n{(aside ? i - 2 : i - 1)}";
            runs.Add(new RunModel($"r{i}", from, $"n{i}", 2 + random.Next(6), 4, ConductorClass.Class5));
        }

        return new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24 },
            [.. Enumerable.Range(1, count).Select(i => new FittingModel($"n{i}", 1 + random.Next(4)))],
            runs.MoveToImmutable());
    }

    private static CircuitModel Series(int count) => new(
        DriveKind.ConstantCurrent,
        new DriverModel { RatedMilliamps = 350, LeastVolts = 20, MostVolts = 120, OpenCircuitVolts = 125 },
        [.. Enumerable.Range(1, count).Select(i => new FittingModel($"n{i}", i % 3 == 0 ? 2.6 : 1.6))],
        [
            .. Enumerable.Range(1, count).Select(i => new RunModel(
                $"r{i}", i == 1 ? CircuitModel.DriverNode : $"n{i - 1}", $"n{i}", 4, 1.5, ConductorClass.Class5)),
        ]);

    private readonly record struct Cost(double Seconds, double Bytes);

    private static void Beside(Report report, string what, Cost cost, Cost dense) =>
        report.Add(what, Text(cost), $"dense solve {Text(dense)}", cost.Seconds / dense.Seconds);

    private static string Text(Cost cost)
    {
        var (time, unit) = cost.Seconds >= 1e-3 ? (1e3 * cost.Seconds, "ms") : (1e6 * cost.Seconds, "µs");
        var (amount, bytes) = cost.Bytes >= 1e6 ? (cost.Bytes / 1e6, "MB") : (cost.Bytes / 1e3, "kB");
        return string.Create(CultureInfo.InvariantCulture, $"{time:0.0} {unit}, {amount:0.0} {bytes}");
    }

    private static Cost Measure(Func<object> call, int batches = Batches)
    {
        var calls = 1;
        double once;
        // The first calls are compiled on the way and say how many make a batch.
        do
        {
            once = Batch(call, calls);
            calls *= 2;
        }
        while (once * calls < SecondsPerBatch);

        var before = GC.GetAllocatedBytesForCurrentThread();
        GC.KeepAlive(call());
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        var seconds = Enumerable.Range(0, batches).Select(_ => Batch(call, calls)).Order().ToArray();
        return new Cost(seconds[batches / 2], bytes);
    }

    private static double Batch(Func<object> call, int calls)
    {
        var watch = Stopwatch.StartNew();
        for (var i = 0; i < calls; i++) GC.KeepAlive(call());
        return watch.Elapsed.TotalSeconds / calls;
    }
}
