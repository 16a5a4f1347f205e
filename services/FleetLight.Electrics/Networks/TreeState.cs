namespace FleetLight.Electrics;

/// <summary>A constant-voltage radial circuit, sound or with a fault, at its operating point.</summary>
internal sealed class TreeState : ICircuitState
{
    private const double Root3 = 1.7320508075688772;

    private readonly TreePlan plan;
    private readonly TreeFault fault;
    private readonly TreeNetwork network;
    private readonly TreeSolution solution;
    private readonly double[] amps;
    private readonly double[] share;
    private readonly double ampsPerVolt;

    private TreeState(TreePlan plan, TreeFault fault, TreeNetwork network, TreeSolution solution)
    {
        this.plan = plan;
        this.fault = fault;
        this.network = network;
        this.solution = solution;
        amps = network.RunAmps(solution.Volts);
        share = new double[network.Count];
        ampsPerVolt = solution.Linear(1, new double[network.Count], new double[network.Count], share);
    }

    /// <inheritdoc/>
    public int Inputs => Input.FirstFitting + (2 * network.Count);

    /// <summary>Current at the driver, A.</summary>
    public double DriverAmps => solution.DriverAmps;

    /// <summary>Solves the circuit with a fault; null where its voltage collapses.</summary>
    public static TreeState? TrySolve(TreePlan plan, TreeFault fault)
    {
        var network = plan.With(fault);
        var solution = TreeSolution.TrySolve(network, fault.DriverVolts);
        return solution is null ? null : new TreeState(plan, fault, network, solution);
    }

    /// <inheritdoc/>
    public System.Collections.Immutable.ImmutableArray<string> Places => [];

    /// <inheritdoc/>
    public double LitShare(int fitting) => double.NaN;

    /// <inheritdoc/>
    public bool Predicts(string? place, MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.Milliamps => place == CircuitModel.DriverNode,
        MeasuredQuantity.VoltsDc => network.PositionOf(place) >= 0,
        _ => false,
    };

    /// <inheritdoc/>
    public double Predict(string place, MeasuredQuantity quantity, Span<double> parts)
    {
        parts.Clear();
        if (quantity == MeasuredQuantity.Milliamps) return PredictMilliamps(parts);
        var node = network.PositionOf(place);
        if (node < 0) return double.NaN;
        parts[Input.DriverOutput] = share[node] * fault.DriverVolts * plan.DriverTolerance;
        if (plan.IsBeyond(fault.CutNode, node))
        {
            parts[Input.DriverOutput] = 0.2;
            return 0;
        }

        if (node > 0) PredictVolts(node, parts);
        return solution.Volts[node];
    }

    // Adjoint: one ampere put in at the node tells how its voltage answers a change anywhere.
    private void PredictVolts(int node, Span<double> parts)
    {
        var count = network.Count;
        var injected = new double[count];
        injected[node] = 1;
        var answer = new double[count];
        solution.Linear(0, injected, new double[count], answer);
        for (var n = 1; n < count; n++)
        {
            AddLoad(n, -answer[n], parts);
            // After the solve, injected[n] holds all that was put in at or beyond n.
            var perVolt = solution.Transfer(n)
                * (injected[n] - (solution.Admittance[n] * answer[network.Parent[n]]));
            AddCable(n, perVolt, parts);
        }
    }

    private double PredictMilliamps(Span<double> parts)
    {
        parts[Input.DriverOutput] = 1000 * ampsPerVolt * fault.DriverVolts * plan.DriverTolerance;
        for (var n = 1; n < network.Count; n++)
        {
            AddLoad(n, 1000 * share[n], parts);
            AddCable(n, 1000 * share[n] * solution.Admittance[n], parts);
        }

        return 1000 * solution.DriverAmps;
    }

    private void AddLoad(int node, double perAmp, Span<double> parts) =>
        parts[Input.FirstFitting + node] =
            perAmp * network.Watts[node] / solution.Volts[node] * plan.LoadTolerance(node) / Root3;

    private void AddCable(int node, double perVolt, Span<double> parts)
    {
        var cable = plan.CableTo(node);
        var scale = -amps[node] * perVolt * (fault.LengthNode == node ? fault.LengthFactor : 1);
        parts[Input.Conductor] += scale * cable.ByConductor;
        parts[Input.Temperature + cable.TemperatureGroup] += scale * cable.ByTemperature;
        parts[Input.FirstFitting + network.Count + node] = scale * cable.ByLength;
    }
}
