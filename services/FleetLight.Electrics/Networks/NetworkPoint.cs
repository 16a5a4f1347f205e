using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>The operating point of a constant-voltage network.</summary>
/// <remarks>
/// First-order parts by the adjoint: one ampere put in at a node tells how its voltage answers a change anywhere, and
/// what reaches a place of the driver's voltage tells how the driver's current answers a change there. Each takes one
/// linear solution with the elimination that is there already.
/// </remarks>
internal sealed class NetworkPoint : ICircuitState
{
    private readonly NetworkPlan plan;
    private readonly NetworkBuilt built;
    private readonly NetworkSolver solver;
    private readonly NetworkLimits limits;
    private readonly double sign;
    private double[]? share;

    public NetworkPoint(NetworkPlan plan, NetworkBuilt built, NetworkOperation operation, NetworkLimits limits)
    {
        this.plan = plan;
        this.built = built;
        this.limits = limits;
        solver = operation.Solver;
        Hold = operation.Hold;
        sign = built.IsReversed ? -1 : 1;
    }

    /// <summary>How the driver holds its output.</summary>
    public NetworkHold Hold { get; }

    /// <summary>The network.</summary>
    public NetworkBuilt Built => built;

    /// <summary>The network at its voltages.</summary>
    public NetworkSolver Solver => solver;

    /// <summary>Newton steps taken, all solutions together.</summary>
    public int Iterations => solver.Iterations;

    /// <summary>Current out of the driver, A.</summary>
    public double DriverAmps => Hold == NetworkHold.Nothing ? 0 : solver.DriverAmps;

    /// <inheritdoc/>
    public int Inputs => plan.Inputs.Length;

    /// <inheritdoc/>
    public ImmutableArray<string> Places => plan.Places;

    /// <inheritdoc/>
    public double LitShare(int fitting)
    {
        var load = built.Loads[fitting];
        if (!load.IsOn || load.Kind == DrawKind.Shunt || Hold == NetworkHold.Nothing) return 0;
        if (solver.IsDead(load.Node)) return 0;
        if (load.Kind == DrawKind.Power) return load.Watts > 0 ? 1 : 0;
        var volts = solver.Volts[load.Node];
        return load.Watts > 0 ? volts * load.AmpsAt(volts, out _) / load.Watts : 0;
    }

    /// <inheritdoc/>
    public bool Predicts(string? place, MeasuredQuantity quantity) => quantity switch
    {
        MeasuredQuantity.Milliamps => place == CircuitModel.DriverNode || plan.FittingAt(place) >= 0,
        MeasuredQuantity.VoltsDc => built.Layout.NodeOf(place) >= 0 || place == CircuitModel.DriverNode,
        _ => false,
    };

    /// <inheritdoc/>
    public double Predict(string place, MeasuredQuantity quantity, Span<double> parts)
    {
        parts.Clear();
        if (!Predicts(place, quantity)) return double.NaN;
        if (Hold == NetworkHold.Nothing) return 0;
        var fitting = plan.FittingAt(place);
        if (parts.IsEmpty) return Value(place, quantity, fitting);
        if (quantity == MeasuredQuantity.Milliamps)
            return fitting < 0 ? PredictDriverAmps(1000 * sign, parts) : PredictFittingAmps(fitting, parts);
        var node = place == CircuitModel.DriverNode ? 0
            : fitting >= 0 ? built.Layout.LoadNode[fitting]
            : built.Layout.NodeOf(place);
        return PredictVolts(node, sign, parts);
    }

    private double Value(string place, MeasuredQuantity quantity, int fitting)
    {
        if (quantity == MeasuredQuantity.VoltsDc)
        {
            return Volts(place == CircuitModel.DriverNode ? 0
                : fitting >= 0 ? built.Layout.LoadNode[fitting]
                : built.Layout.NodeOf(place));
        }

        if (fitting < 0) return 1000 * sign * solver.DriverAmps;
        var load = built.Loads[fitting];
        return load.IsOn && !solver.IsDead(load.Node) ? 1000 * sign * load.AmpsAt(solver.Volts[load.Node], out _) : 0;
    }

    private double Volts(int node) => IsDark(node) ? 0 : sign * solver.Volts[node];

    private bool IsDark(int node) => Hold == NetworkHold.Nothing || solver.IsDead(node);

    /// <summary>Voltage at a node, with how it depends on the inputs; <paramref name="parts"/> are zero on entry.</summary>
    public double VoltsAt(int node, Span<double> parts) =>
        Hold == NetworkHold.Nothing ? 0 : PredictVolts(node, sign, parts);

    private double PredictVolts(int node, double weight, Span<double> parts)
    {
        if (solver.IsDead(node)) return 0;
        AddDriverVolts(weight * Share()[node], parts);
        if (node > 0)
        {
            var put = new double[built.Layout.Count];
            put[node] = weight;
            var answer = new double[put.Length];
            solver.Conductances.Solve(0, put, answer);
            AddInputs(answer, -1, parts);
        }

        return weight * solver.Volts[node];
    }

    private double PredictDriverAmps(double weight, Span<double> parts)
    {
        AddDriverVolts(weight * solver.Conductances.Shunt[0], parts);
        AddInputs(Share(), weight, parts);
        return weight * solver.DriverAmps;
    }

    private double PredictFittingAmps(int fitting, Span<double> parts)
    {
        var load = built.Loads[fitting];
        if (!load.IsOn || solver.IsDead(load.Node)) return 0;
        var volts = solver.Volts[load.Node];
        var weight = 1000 * sign;
        var amps = load.AmpsAt(volts, out var slope);
        PredictVolts(load.Node, weight * slope, parts);
        AddOwn(load, volts, weight, parts);
        return weight * amps;
    }

    // Adds the effect of the driver's voltage, and where that sags at a limit, of everything that moves it.
    private void AddDriverVolts(double perVolt, Span<double> parts)
    {
        if (Hold == NetworkHold.Volts)
        {
            parts[Input.DriverOutput] += perVolt * built.DriverVolts * built.DriverRelative;
            return;
        }

        var volts = solver.Volts[0];
        var slope = solver.Conductances.Shunt[0];
        if (Hold == NetworkHold.Amps)
        {
            parts[Input.DriverOutput] += perVolt * limits.AmpsPart / slope;
            AddInputs(Share(), -perVolt / slope, parts);
        }
        else
        {
            var perWatt = 1 / (solver.DriverAmps + (volts * slope));
            parts[Input.DriverOutput] += perVolt * limits.WattsPart * perWatt;
            AddInputs(Share(), -perVolt * volts * perWatt, parts);
        }
    }

    // Adds what all inputs but the driver's do, where a draw of one ampere more at a node changes the quantity by the
    // weight there.
    private void AddInputs(double[] weights, double factor, Span<double> parts)
    {
        foreach (ref readonly var load in built.Loads.AsSpan())
        {
            if (load.IsOn && !solver.IsDead(load.Node))
                AddOwn(load, solver.Volts[load.Node], factor * weights[load.Node], parts);
        }

        for (var b = 0; b < built.BranchOhms.Length; b++)
        {
            var ohms = built.BranchOhms[b];
            if (ohms < NetworkSolver.LeastOhms || double.IsInfinity(ohms)) continue;
            var (a, z) = built.Layout.Branches[b];
            var perOhm = -factor * (weights[a] - weights[z]) * solver.BranchAmps(b) / ohms;
            if (perOhm != 0) AddCable(b, perOhm, parts);
        }
    }

    private void AddCable(int branch, double perOhm, Span<double> parts)
    {
        var cores = built.FaultyCoresOf(branch);
        if (cores is null)
        {
            var (cable, lengthInput) = built.CableOf(branch);
            cable.AddTo(parts, lengthInput, perOhm);
            return;
        }

        for (var b = 0; b < cores.ByBranch!.Length; b++)
        {
            if (cores.ByBranch[b] == 0) continue;
            var (cable, lengthInput) = built.CableOf(b);
            cable.AddTo(parts, lengthInput, perOhm * cores.ByBranch[b]);
        }
    }

    private void AddOwn(in NetworkLoad load, double volts, double perAmp, Span<double> parts)
    {
        parts[load.Input] += perAmp * load.ByOwn(volts);
        if (load.Kind != DrawKind.String) return;
        load.AmpsAt(volts, out var slope);
        parts[Input.FittingTemperature] -= perAmp * slope * volts * built.RelativeTemperature;
    }

    // What reaches each node of a volt at the driver.
    private double[] Share()
    {
        if (share is not null) return share;
        var found = new double[built.Layout.Count];
        solver.Conductances.Solve(1, new double[found.Length], found);
        return share = found;
    }
}
