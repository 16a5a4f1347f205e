using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Circuits;

/// <summary>
/// The work grows with the number of nodes and no faster: steps of Newton's method and of the elimination, and bytes,
/// from 10 to 10,000 nodes. No clock is looked at.
/// </summary>
public class GrowthTests
{
    private static readonly int[] Counts = [10, 100, 1000, 10_000];

    public static TheoryData<string> Shapes => ["chain", "branches", "ring", "ladder", "hub", "loop", "loop of branches"];

    [Theory]
    [MemberData(nameof(Shapes))]
    public void Steps_and_bytes_per_node_stay_bounded(string shape)
    {
        Measure(Circuit(shape, 10));
        var least = double.MaxValue;
        foreach (var count in Counts)
        {
            var (steps, pairs, bytes) = Measure(Circuit(shape, count));
            Assert.InRange(steps, 0, 8);
            Assert.InRange(pairs / (double)count, 0, 4);
            // What is the same for any size no longer counts from a hundred nodes on.
            if (count < 100) continue;
            Assert.True(bytes / count < 1.5 * least, $"{count} nodes: {bytes / count} bytes each, {least} before");
            least = Math.Min(least, bytes / (double)count);
            Assert.InRange(least, 1, 4000);
        }
    }

    private static (int Steps, int Pairs, long Bytes) Measure(CircuitModel model)
    {
        var before = GC.GetAllocatedBytesForCurrentThread();
        var readings = Some.Readings(model);
        var bytes = GC.GetAllocatedBytesForCurrentThread() - before;
        var plan = CircuitPlan.TryLay(model, null, out _);
        var pairs = plan is NetworkPlan network ? network.WithoutLimits(out _)!.Built.Layout.Steps.Pairs.Length : 0;
        Assert.Equal(model.Fittings.Length, readings.Fittings.Length);
        Assert.All(readings.Fittings, f => Assert.True(f.VoltsDc.StandardUncertainty > 0));
        return (readings.Iterations, pairs, bytes);
    }

    private static CircuitModel Circuit(string shape, int count)
    {
        var isLoop = shape.StartsWith("loop", StringComparison.Ordinal);
        // As much drop at any size.
        var watts = isLoop ? 1 : 100.0 / count;
        return new CircuitModel(
            isLoop ? DriveKind.ConstantCurrent : DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24, RatedMilliamps = 350 },
            [.. Enumerable.Range(1, count).Select(i => new FittingModel($"n{i}", watts))],
            [.. Enumerable.Range(1, count).Select(i => Run(Feeding(shape, i), i, count)), .. Rings(shape, count)]);
    }

    private static int Feeding(string shape, int node) => shape switch
    {
        "branches" or "loop of branches" => node / 2,
        "hub" => 0,
        "ladder" => Math.Max(0, node - 2),
        _ => node - 1,
    };

    private static IEnumerable<RunModel> Rings(string shape, int count) => shape switch
    {
        "ring" => [Run(count, 0, count)],
        // Every rung closes a ring.
        "ladder" => Enumerable.Range(1, (count / 2) - 1).Select(i => Run(2 * i, (2 * i) - 1, count) with { Id = $"rung{i}" }),
        // Petals: two neighbours each, all meeting at the driver.
        "hub" => Enumerable.Range(1, count / 2).Select(i => Run(2 * i, (2 * i) - 1, count) with { Id = $"petal{i}" }),
        _ => [],
    };

    private static RunModel Run(int from, int to, int count) => Some.Run(
        from == 0 ? CircuitModel.DriverNode : $"n{from}", to == 0 ? CircuitModel.DriverNode : $"n{to}", 100.0 / count, 16);
}
