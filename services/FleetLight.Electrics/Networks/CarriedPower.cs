namespace FleetLight.Electrics;

/// <summary>Finds how much power a network could carry where it cannot carry what is asked.</summary>
internal static class CarriedPower
{
    private const int Halvings = 50;
    private const double Settled = 1e-9;

    public static CannotExpect Refusal(NetworkBuilt built)
    {
        double asked = 0;
        foreach (var load in built.Loads) asked += load.Watts;
        var greatest = asked * GreatestScale(built);
        return new CannotExpect(
            RefusalReason.VoltageCollapse,
            $"The cable cannot carry {Plain.Figure(asked)} W at this voltage; {Plain.Figure(greatest)} W is the most.",
            "runs")
        {
            GreatestWatts = greatest,
        };
    }

    // The greatest multiple of all loads, 0 to 1, at which there still is an operating point.
    private static double GreatestScale(NetworkBuilt built)
    {
        var watts = built.Loads.Select(load => load.Watts).ToArray();
        var solver = new NetworkSolver(built);
        double low = 0, high = 1;
        for (var i = 0; i < Halvings && high - low > Settled * high; i++)
        {
            var middle = (low + high) / 2;
            for (var l = 0; l < watts.Length; l++) built.Loads[l].Watts = middle * watts[l];
            if (solver.TrySolve(built.DriverVolts)) low = middle;
            else high = middle;
        }

        return low;
    }
}
