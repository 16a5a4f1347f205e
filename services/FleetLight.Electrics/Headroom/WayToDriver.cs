namespace FleetLight.Electrics;

/// <summary>The way of least resistance from a node to the driver.</summary>
internal static class WayToDriver
{
    /// <summary>
    /// The nodes on it, the nearest to the node first and the driver last; none where there is no way.
    /// </summary>
    public static List<string> From(CircuitModel circuit, string node)
    {
        var runs = circuit.Runs.OrEmpty();
        var towards = new Dictionary<string, string>(StringComparer.Ordinal);
        var ohms = new Dictionary<string, double>(StringComparer.Ordinal) { [CircuitModel.DriverNode] = 0 };
        var queue = new PriorityQueue<string, double>();
        queue.Enqueue(CircuitModel.DriverNode, 0);
        var meeting = runs.SelectMany(run => new[] { (End: run.From, Run: run), (End: run.To, Run: run) })
            .ToLookup(pair => pair.End, pair => pair.Run, StringComparer.Ordinal);
        while (queue.TryDequeue(out var near, out var reached))
        {
            if (reached > ohms[near]) continue;
            foreach (var run in meeting[near])
            {
                var far = AlteredCircuit.FarEnd(run, near);
                var there = reached + Ohms(run);
                if (ohms.TryGetValue(far, out var known) && known <= there) continue;
                ohms[far] = there;
                towards[far] = near;
                queue.Enqueue(far, there);
            }
        }

        List<string> way = [];
        while (towards.TryGetValue(node, out var next)) way.Add(node = next);
        return way;
    }

    /// <summary>The greatest resistance of a run at 20 °C, Ω; 0 where its conductor is not known.</summary>
    public static double Ohms(RunModel run) =>
        ConductorResistance.TryOhmsPerKilometreAt20(run.ConductorClass, run.AreaSquareMillimetres, out var perKilometre)
            ? perKilometre / 1000 * run.LengthMetres * run.ConductorsInLoop
            : 0;
}
