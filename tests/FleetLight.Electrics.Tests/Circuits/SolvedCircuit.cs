namespace FleetLight.Electrics.Tests;

/// <summary>A solved circuit with short names for what tests ask of it.</summary>
internal sealed class SolvedCircuit(CircuitPlan plan, ICircuitState state)
{
    public CircuitPlan Plan => plan;

    public ICircuitState State => state;

    public static SolvedCircuit Of(CircuitModel model, Assumptions? assumptions, params CircuitChange[] changes)
    {
        var plan = CircuitPlan.TryLay(model, assumptions, out var refusal);
        Assert.True(plan is not null, refusal?.Text);
        var state = plan.Solve([.. changes], [], out refusal);
        Assert.True(state is not null, refusal?.Text);
        return new SolvedCircuit(plan, state);
    }

    public double Volts(string place) => Value(place, MeasuredQuantity.VoltsDc);

    public double Milliamps(string place) => Value(place, MeasuredQuantity.Milliamps);

    public double Ohms() => Value(CircuitModel.DriverNode, MeasuredQuantity.LoopOhms);

    public double Lit(int fitting) => state.LitShare(fitting);

    private double Value(string place, MeasuredQuantity quantity) =>
        state.Predict(place, quantity, new double[state.Inputs]);
}
