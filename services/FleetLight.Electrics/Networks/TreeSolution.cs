namespace FleetLight.Electrics;

/// <summary>
/// The operating point of a radial direct-current network with constant-power loads, and its linear behaviour there.
/// </summary>
/// <remarks>
/// Newton's method on the node equations, each step solved by one sweep up and one down the tree, so that time
/// grows with the number of nodes. Started from the no-load voltage it falls monotonically to the high-voltage
/// solution where there is one (the equations are convex and the Jacobian is an M-matrix above the solution; Ortega
/// and Rheinboldt 1970, theorem 13.3.4); a pivot that is not positive proves that there is none.
/// </remarks>
internal sealed class TreeSolution
{
    private const int MostIterations = 80;
    private const double Settled = 1e-13;

    private readonly TreeNetwork network;
    private readonly double[] source;

    private TreeSolution(TreeNetwork network)
    {
        this.network = network;
        source = new double[network.Count];
        Volts = new double[network.Count];
        Admittance = new double[network.Count];
    }

    /// <summary>Voltage at each node, V.</summary>
    public double[] Volts { get; }

    /// <summary>
    /// Incremental admittance of everything at and beyond each node, S; negative for constant-power loads.
    /// </summary>
    public double[] Admittance { get; }

    /// <summary>Newton steps taken.</summary>
    public int Iterations { get; private set; }

    /// <summary>Current out of the driver, A.</summary>
    public double DriverAmps { get; private set; }

    /// <summary>Solves the network, or returns null where the voltage collapses.</summary>
    /// <param name="network">The network.</param>
    /// <param name="driverVolts">Voltage at the driver, V; above zero.</param>
    /// <param name="loadScale">Multiple of every load's power.</param>
    public static TreeSolution? TrySolve(TreeNetwork network, double driverVolts, double loadScale = 1)
    {
        var solution = new TreeSolution(network);
        Array.Fill(solution.Volts, driverVolts);
        while (solution.Iterations++ < MostIterations)
        {
            if (!solution.Step(loadScale, out var change)) return null;
            if (change > Settled * driverVolts) continue;
            return solution.Linearize(loadScale) ? solution : null;
        }

        return null;
    }

    /// <summary>Share of a voltage change at the feeding node that reaches this node.</summary>
    public double Transfer(int node) => 1 / (1 + (network.Ohms[node] * Admittance[node]));

    /// <summary>Solves the linearized network.</summary>
    /// <param name="driverVolts">Change of the driver's voltage, V.</param>
    /// <param name="injected">Current put into each node, A; overwritten.</param>
    /// <param name="inserted">Voltage put into the run that feeds each node, V.</param>
    /// <param name="change">Receives the change of voltage at each node, V.</param>
    /// <returns>The change of the driver's current, A.</returns>
    public double Linear(double driverVolts, Span<double> injected, ReadOnlySpan<double> inserted, Span<double> change)
    {
        for (var n = network.Count - 1; n > 0; n--)
            injected[network.Parent[n]] += Transfer(n) * (injected[n] - (Admittance[n] * inserted[n]));
        change[0] = driverVolts;
        for (var n = 1; n < network.Count; n++)
        {
            change[n] = Transfer(n)
                * (change[network.Parent[n]] + inserted[n] + (network.Ohms[n] * injected[n]));
        }

        return (Admittance[0] * driverVolts) - injected[0];
    }

    // The admittance that each load has at the voltages found, gathered towards the driver.
    private bool Linearize(double loadScale)
    {
        Array.Clear(Admittance);
        double amps = 0;
        for (var n = network.Count - 1; n >= 0; n--)
        {
            var load = loadScale * network.Watts[n] / Volts[n];
            amps += load;
            Admittance[n] -= load / Volts[n];
            if (n == 0) break;
            var pivot = 1 + (network.Ohms[n] * Admittance[n]);
            if (!(pivot > 0)) return false;
            Admittance[network.Parent[n]] += Admittance[n] / pivot;
        }

        DriverAmps = amps;
        return true;
    }

    private bool Step(double loadScale, out double change)
    {
        change = 0;
        Array.Clear(Admittance);
        Array.Clear(source);
        for (var n = network.Count - 1; n > 0; n--)
        {
            // A constant-power load near voltage v draws 2P/v − (P/v²)·V.
            var load = loadScale * network.Watts[n] / Volts[n];
            Admittance[n] -= load / Volts[n];
            source[n] -= 2 * load;
            var pivot = 1 + (network.Ohms[n] * Admittance[n]);
            if (!(pivot > 0)) return false;
            Admittance[network.Parent[n]] += Admittance[n] / pivot;
            source[network.Parent[n]] += source[n] / pivot;
        }

        for (var n = 1; n < network.Count; n++)
        {
            var volts = Transfer(n) * (Volts[network.Parent[n]] + (network.Ohms[n] * source[n]));
            if (!(volts > 0)) return false;
            change = Math.Max(change, Math.Abs(volts - Volts[n]));
            Volts[n] = volts;
        }

        return true;
    }
}
