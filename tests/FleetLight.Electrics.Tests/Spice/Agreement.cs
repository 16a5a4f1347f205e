using System.Globalization;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>Compares what the electrics expect of circuits with what the simulator finds.</summary>
internal sealed class Agreement
{
    // 0.1 % of the value, or 1 mV or 0.1 mA where that is more.
    private const double Relative = 0.001;
    private const double Volts = 0.001;
    private const double Milliamps = 0.1;

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

    /// <summary>Compares a circuit at every place.</summary>
    public void Check(GeneratedCircuit circuit, Oracle? oracle)
    {
        var plan = CircuitPlan.TryLay(circuit.Model, circuit.Assumptions, out var refusal);
        var state = plan?.Solve(circuit.Changes, [], out refusal);
        lock (guard)
        {
            Circuits++;
            if (plan is null) faults.Add($"{circuit.Name}: {refusal?.Text}");
            else if (state is null && oracle is null) Collapsed++;
            else if (state is null) faults.Add($"{circuit.Name}: only ngspice has it run. {refusal?.Text}");
            else if (oracle is null) faults.Add($"{circuit.Name}: ngspice does not have it run.");
            else foreach (var ((place, quantity), value) in oracle.Readings) Compare(circuit, state, place, quantity, value);
        }
    }

    /// <summary>What was found in one line.</summary>
    public string Summary => string.Create(
        CultureInfo.InvariantCulture,
        $"{Circuits} circuits ({Collapsed} without an operating point), {Values} values; worst {worst:0.000000} of what is allowed, {worstOf}");

    /// <summary>Fails if anything disagreed.</summary>
    public void Hold() => Assert.True(faults.Count == 0, string.Join("\n", faults.Take(20).Prepend($"{faults.Count}:")));

    private void Compare(
        GeneratedCircuit circuit, ICircuitState state, string place, MeasuredQuantity quantity, double value)
    {
        Values++;
        var predicted = state.Predict(place, quantity, new double[state.Inputs]);
        var floor = quantity == MeasuredQuantity.Milliamps ? Milliamps : Volts;
        var share = Math.Abs(predicted - value) / Math.Max(floor, Relative * Math.Abs(value));
        var text = string.Create(
            CultureInfo.InvariantCulture,
            $"{circuit.Name}: {quantity} at {place}: {predicted:R}, by ngspice {value:R}; {string.Join(", ", circuit.Changes)}");
        // No number at all is no agreement.
        if (!(share <= 1)) faults.Add(text);
        if (!(share > worst)) return;
        (worst, worstOf) = (share, text);
    }
}
