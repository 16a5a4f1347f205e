using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>The current in each run of a circuit at its operating point.</summary>
internal static class RunCurrents
{
    /// <summary>Best estimate of the current in each run, A, in the order of the model.</summary>
    /// <remarks>
    /// Constant current: the loop's. Constant voltage, radial: the sum of what hangs beyond the run. Where runs close a
    /// ring, the driver's whole current is taken for every run, which is never too little.
    /// </remarks>
    public static double[] Of(CircuitModel model, ExpectedReadings readings)
    {
        var runs = model.Runs.OrEmpty();
        var amps = new double[runs.Length];
        Array.Fill(amps, readings.DriverMilliamps.Best / 1000);
        if (model.Drive == DriveKind.ConstantCurrent || !TryOrder(runs, out var order, out var near)) return amps;
        var beyond = new Dictionary<string, double>(runs.Length + 1, StringComparer.Ordinal);
        foreach (var fitting in readings.Fittings.OrEmpty())
            beyond[fitting.FittingId] = fitting.VoltsDc.Best > 0 ? fitting.Watts / fitting.VoltsDc.Best : 0;
        for (var i = order.Count - 1; i >= 0; i--)
        {
            var run = order[i];
            var far = AlteredCircuit.FarEnd(runs[run], near[i]);
            amps[run] = beyond.GetValueOrDefault(far);
            beyond[near[i]] = beyond.GetValueOrDefault(near[i]) + amps[run];
        }

        return amps;
    }

    // Breadth first from the driver; false where the runs close a ring.
    private static bool TryOrder(ImmutableArray<RunModel> runs, out List<int> order, out List<string> near)
    {
        order = new List<int>(runs.Length);
        near = new List<string>(runs.Length);
        var at = new Dictionary<string, List<int>>(runs.Length + 1, StringComparer.Ordinal);
        for (var r = 0; r < runs.Length; r++)
        {
            foreach (var end in (ReadOnlySpan<string>)[runs[r].From, runs[r].To])
            {
                if (!at.TryGetValue(end, out var meeting)) at[end] = meeting = [];
                meeting.Add(r);
            }
        }

        var reached = new HashSet<string>(StringComparer.Ordinal) { CircuitModel.DriverNode };
        var queue = new Queue<(string Node, int By)>();
        queue.Enqueue((CircuitModel.DriverNode, -1));
        while (queue.TryDequeue(out var next))
        {
            foreach (var run in at.GetValueOrDefault(next.Node, []))
            {
                if (run == next.By) continue;
                var far = AlteredCircuit.FarEnd(runs[run], next.Node);
                if (!reached.Add(far)) return false;
                order.Add(run);
                near.Add(next.Node);
                queue.Enqueue((far, run));
            }
        }

        return true;
    }
}
