namespace FleetLight.Electrics;

/// <summary>Finds how much power a network could carry where it cannot carry what is asked.</summary>
internal static class Collapse
{
    private const int Halvings = 50;

    public static CannotExpect Refusal(TreeNetwork network, double driverVolts)
    {
        double asked = 0;
        foreach (var watts in network.Watts) asked += watts;
        var greatest = asked * GreatestScale(network, driverVolts);
        return new CannotExpect(
            RefusalReason.VoltageCollapse,
            $"The cable cannot carry {Plain.Figure(asked)} W at this voltage; {Plain.Figure(greatest)} W is the most.",
            "runs")
        {
            GreatestWatts = greatest,
        };
    }

    /// <summary>The greatest multiple of the loads, 0 to 1, at which the network still has a solution.</summary>
    public static double GreatestScale(TreeNetwork network, double driverVolts)
    {
        double low = 0, high = 1;
        for (var i = 0; i < Halvings && high - low > 1e-9 * high; i++)
        {
            var middle = (low + high) / 2;
            if (TreeSolution.TrySolve(network, driverVolts, middle) is null) high = middle;
            else low = middle;
        }

        return low;
    }
}
