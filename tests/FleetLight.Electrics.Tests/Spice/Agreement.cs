using System.Globalization;
using Reading = (string Place, FleetLight.Electrics.MeasuredQuantity Quantity);

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>Compares what the electrics work out of circuits with what the simulator finds.</summary>
internal sealed class Agreement
{
    // 0.02 % of the value, or 0.2 mV or 0.02 mA where that is more: both sides solve the same equations, and a slip in a
    // cable's resistance is a small share of a voltage.
    private const double Relative = 0.0002;
    private const double Volts = 0.0002;
    private const double Milliamps = 0.02;

    private readonly Lock guard = new();
    private readonly List<string> faults = [];
    private double worst;
    private string worstOf = "none";

    /// <summary>How many circuits were compared.</summary>
    public int Circuits { get; private set; }

    /// <summary>How many voltages and currents were compared.</summary>
    public int Values { get; private set; }

    /// <summary>How many circuits have no operating point for either.</summary>
    public int Collapsed { get; private set; }

    /// <summary>How many circuits as recorded have expected readings, which were compared as well.</summary>
    public int Expectations { get; private set; }

    /// <summary>What was found, in one line.</summary>
    public string Summary => string.Create(
        CultureInfo.InvariantCulture,
        $"{Circuits} circuits, {Collapsed} of them without an operating point; {Values} values; "
            + $"worst at {worst:0.0000} of what is allowed: {worstOf}");

    /// <summary>Compares a circuit at every place.</summary>
    public void Check(GeneratedCircuit circuit, Oracle? oracle)
    {
        var plan = CircuitPlan.TryLay(circuit.Model, circuit.Assumptions, out var refusal);
        var state = plan?.Solve(circuit.Changes, [], out refusal);
        var expected = circuit.Changes.IsEmpty
            ? Expected.Of(circuit.Model, circuit.Assumptions) as ExpectedReadings
            : null;
        lock (guard)
        {
            Circuits++;
            if (plan is not null && state is null && oracle is null && expected is null) Collapsed++;
            else if (state is null) faults.Add($"{circuit.Name}: the electrics do not have it run. {refusal?.Text}");
            else if (oracle is null) faults.Add($"{circuit.Name}: ngspice does not have it run.");
            else Compare(circuit, oracle, at => state.Predict(at.Place, at.Quantity, new double[state.Inputs]));
            if (expected is null || oracle is null) return;
            Expectations++;
            var best = Best(expected);
            Compare(circuit, oracle, at =>
                best.TryGetValue(at, out var value) ? value
                : at.Quantity == MeasuredQuantity.VoltsDc ? double.NaN
                : null);
        }
    }

    /// <summary>Fails if anything disagreed.</summary>
    public void Hold() =>
        Assert.True(faults.Count == 0, string.Join("\n", faults.Take(20).Prepend($"{faults.Count}:")));

    // Every voltage that is expected, and the driver's current.
    private static Dictionary<Reading, double> Best(ExpectedReadings expected)
    {
        Dictionary<Reading, double> best = new()
        {
            [(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc)] = expected.DriverVoltsDc.Best,
            [(CircuitModel.DriverNode, MeasuredQuantity.Milliamps)] = expected.DriverMilliamps.Best,
        };
        foreach (var node in expected.Nodes) best[(node.NodeId, MeasuredQuantity.VoltsDc)] = node.VoltsDc.Best;
        foreach (var fitting in expected.Fittings)
            best[(fitting.FittingId, MeasuredQuantity.VoltsDc)] = fitting.VoltsDc.Best;
        return best;
    }

    private void Compare(GeneratedCircuit circuit, Oracle oracle, Func<Reading, double?> worked)
    {
        foreach (var (at, value) in oracle.Readings)
        {
            if (worked(at) is not { } ours) continue;
            Values++;
            var floor = at.Quantity == MeasuredQuantity.Milliamps ? Milliamps : Volts;
            var share = Math.Abs(ours - value) / Math.Max(floor, Relative * Math.Abs(value));
            // No number at all is no agreement.
            if (share <= worst) continue;
            var text = string.Create(
                CultureInfo.InvariantCulture,
                $"{circuit.Name}: {at.Quantity} at {at.Place}: {ours:R}, by ngspice {value:R}; {circuit.ChangesText}");
            if (!(share <= 1)) faults.Add(text);
            else (worst, worstOf) = (share, text);
        }
    }
}
