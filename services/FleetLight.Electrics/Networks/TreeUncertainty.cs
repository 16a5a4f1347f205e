namespace FleetLight.Electrics;

/// <summary>First-order uncertainty of a solved radial network, in time that grows with the number of nodes.</summary>
/// <remarks>
/// What is common to many parts (driver volts, temperatures, conductor) takes one linear solve each. What is
/// independent per part (fitting powers, lengths) would take one solve per part; instead its variance at every node
/// is the derivative of the node's driving-point resistance when each part is disturbed in proportion to its
/// variance, which two sweeps give: for A the Jacobian and B the diagonal of variances, A⁻¹BA⁻¹ = −d(A + εB)⁻¹/dε.
/// </remarks>
internal sealed class TreeUncertainty
{
    private const double Root3 = 1.7320508075688772;

    private readonly CircuitModel model;
    private readonly TreeNetwork network;
    private readonly TreeSolution solution;
    private readonly Cable[] cables;
    private readonly double driverVolts;
    private readonly double[] amps;
    private readonly double[] byDriverVolt;
    private readonly double[] byConductor;
    private readonly double[]?[] byTemperature = new double[]?[Cable.TemperatureGroups];
    private readonly double[] powerVariance;
    private readonly double[] lengthVariance;
    private readonly double ampsPerVolt;
    private readonly double ampsByConductor;
    private readonly double[] ampsByTemperature = new double[Cable.TemperatureGroups];

    public TreeUncertainty(CircuitModel model, TreeNetwork network, TreeSolution solution, Cable[] cables)
    {
        this.model = model;
        this.network = network;
        this.solution = solution;
        this.cables = cables;
        driverVolts = solution.Volts[0];
        var count = network.Count;
        amps = network.RunAmps(solution.Volts);
        var injected = new double[count];
        var inserted = new double[count];
        byDriverVolt = new double[count];
        ampsPerVolt = solution.Linear(1, injected, inserted, byDriverVolt);
        byConductor = new double[count];
        for (var n = 1; n < count; n++) inserted[n] = -amps[n] * CableTo(n).ByConductor;
        Array.Clear(injected);
        ampsByConductor = solution.Linear(0, injected, inserted, byConductor);
        for (var group = 0; group < Cable.TemperatureGroups; group++) SolveTemperature(group, injected, inserted);
        powerVariance = new double[count];
        lengthVariance = new double[count];
        SpreadVariances();
    }

    private double DriverTolerance => model.Driver.OutputTolerancePercent / 100 / Root3;

    /// <summary>Voltage at a node other than the driver.</summary>
    public Estimate Volts(int node)
    {
        var budget = new BudgetBuilder();
        budget.Rectangular(UncertaintySource.DriverOutput, byDriverVolt[node] * driverVolts * DriverTolerance);
        budget.Normal(UncertaintySource.FittingPower, Math.Sqrt(powerVariance[node]));
        budget.Normal(UncertaintySource.CableLength, Math.Sqrt(lengthVariance[node]));
        budget.Rectangular(UncertaintySource.ConductorResistance, byConductor[node]);
        foreach (var group in byTemperature)
        {
            if (group is not null) budget.Normal(UncertaintySource.ConductorTemperature, group[node]);
        }

        return budget.Close(solution.Volts[node]);
    }

    /// <summary>Voltage at the driver.</summary>
    public Estimate DriverVolts()
    {
        var budget = new BudgetBuilder();
        budget.Rectangular(UncertaintySource.DriverOutput, driverVolts * DriverTolerance);
        return budget.Close(driverVolts);
    }

    /// <summary>Current at the driver in multiples of 1 A: 1000 for mA.</summary>
    public Estimate DriverCurrent(double scale) => DriverFlow(scale, 0, solution.DriverAmps * scale);

    /// <summary>Power at the driver, W.</summary>
    public Estimate DriverWatts() => DriverFlow(driverVolts, solution.DriverAmps, driverVolts * solution.DriverAmps);

    private Estimate DriverFlow(double perAmp, double perVolt, double best)
    {
        var budget = new BudgetBuilder();
        budget.Rectangular(
            UncertaintySource.DriverOutput,
            ((ampsPerVolt * perAmp) + perVolt) * driverVolts * DriverTolerance);
        budget.Rectangular(UncertaintySource.ConductorResistance, ampsByConductor * perAmp);
        foreach (var part in ampsByTemperature) budget.Normal(UncertaintySource.ConductorTemperature, part * perAmp);
        for (var n = 0; n < network.Count; n++)
        {
            if (network.Fitting[n] >= 0)
                budget.Rectangular(UncertaintySource.FittingPower, byDriverVolt[n] * LoadPart(n) * perAmp);
            if (n == 0) continue;
            // A longer run lowers the voltage beyond it, and a constant power then draws more current.
            var part = byDriverVolt[n] * solution.Admittance[n] * amps[n] * CableTo(n).ByLength;
            budget.Rectangular(UncertaintySource.CableLength, part * perAmp);
        }

        return budget.Close(best);
    }

    private Cable CableTo(int node) => cables[network.Run[node]];

    // Standard uncertainty of the current that the fitting at a node draws, by its power tolerance, A.
    private double LoadPart(int node) =>
        network.Watts[node] / solution.Volts[node]
        * model.Fittings[network.Fitting[node]].TolerancePercent / 100 / Root3;

    private void SolveTemperature(int group, double[] injected, double[] inserted)
    {
        var any = false;
        for (var n = 1; n < network.Count; n++)
        {
            var cable = CableTo(n);
            var belongs = cable.TemperatureGroup == group && cable.ByTemperature > 0;
            inserted[n] = belongs ? -amps[n] * cable.ByTemperature : 0;
            any |= belongs;
        }

        if (!any) return;
        Array.Clear(injected);
        var change = new double[network.Count];
        ampsByTemperature[group] = solution.Linear(0, injected, inserted, change);
        byTemperature[group] = change;
    }

    // Upward: how the admittance at each node answers the disturbance; downward: how the driving-point resistance does.
    private void SpreadVariances()
    {
        var count = network.Count;
        var byPower = new double[count];
        var byLength = new double[count];
        var disturbed = new double[count];
        for (var n = count - 1; n > 0; n--)
        {
            if (network.Fitting[n] >= 0) byPower[n] += LoadPart(n) * LoadPart(n);
            var part = amps[n] * CableTo(n).ByLength;
            disturbed[n] = part * part;
            var transfer = solution.Transfer(n);
            var seen = solution.Admittance[n] * transfer;
            byPower[network.Parent[n]] += transfer * transfer * byPower[n];
            byLength[network.Parent[n]] += (transfer * transfer * byLength[n]) - (seen * seen * disturbed[n]);
        }

        var resistance = new double[count];
        for (var n = 1; n < count; n++)
        {
            var up = network.Parent[n];
            var ohms = network.Ohms[n];
            var t = solution.Transfer(n);
            resistance[n] = (ohms * t) + (t * t * resistance[up]);
            powerVariance[n] = (t * t * ohms * byPower[n] * (ohms + (2 * t * resistance[up])))
                + (t * t * powerVariance[up]);
            var transferChange = -t * t * ((disturbed[n] * solution.Admittance[n]) + (ohms * byLength[n]));
            var variance = (disturbed[n] * t) + (ohms * transferChange)
                + (2 * t * transferChange * resistance[up]) + (t * t * lengthVariance[up]);
            // Rounding may leave a tiny negative remainder where a node's voltage hardly depends on any length.
            lengthVariance[n] = Math.Max(0, variance);
        }
    }
}
