using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A constant-voltage network, laid out.</summary>
internal sealed class NetworkPlan : CircuitPlan
{
    private readonly NetworkLayout layout;
    private readonly CableSet cables;
    private double? recordedAmps;

    private NetworkPlan(CircuitModel model, Assumptions assumptions, NetworkLayout layout)
        : base(model, assumptions)
    {
        this.layout = layout;
        cables = new CableSet(Model, assumptions);
        Places = layout.Places(Model);
    }

    /// <summary>The places whose readings may be predicted.</summary>
    public ImmutableArray<string> Places { get; }

    /// <summary>Lays a circuit out, or says why it cannot be.</summary>
    public static NetworkPlan? Lay(CircuitModel model, Assumptions assumptions, out CannotExpect? refusal)
    {
        var complete = model with { Runs = model.Runs.OrEmpty() };
        var layout = NetworkLayout.TryLay(complete, out refusal);
        return layout is null ? null : new NetworkPlan(complete, assumptions, layout);
    }

    /// <inheritdoc/>
    public override ICircuitState? Solve(
        ImmutableArray<CircuitChange> changes, ReadOnlySpan<double> deviations, out CannotExpect? refusal)
    {
        var built = new NetworkBuilt(Model, Assumptions, layout, cables);
        if (!built.TryTake(changes, out var failed))
        {
            refusal = new CannotExpect(
                RefusalReason.OutOfRange, "The change names what is not there, or its figure cannot be.",
                $"changes[{failed}]");
            return null;
        }

        built.Close(deviations);
        var limits = NetworkLimits.Of(
            Model.Driver, built.IsChanged ? RecordedAmps() : double.NaN,
            BuiltCircuit.At(deviations, Input.DriverOutput));
        var operation = new NetworkOperation(built, limits);
        var failure = operation.Run();
        refusal = failure switch
        {
            NetworkFailure.None => null,
            NetworkFailure.Overload => new CannotExpect(
                RefusalReason.BeyondDriver,
                "The driver is at its limit, and a lower voltage does not bring the current down to it.", "driver"),
            _ => new CannotExpect(
                RefusalReason.VoltageCollapse, "No voltage exists at which the cable carries the power.", "runs"),
        };
        return refusal is null ? new NetworkPoint(this, built, operation, limits) : null;
    }

    /// <summary>
    /// The circuit as recorded if its driver could give any current, or why it has no operating point.
    /// </summary>
    public NetworkPoint? WithoutLimits(out CannotExpect? refusal)
    {
        var built = new NetworkBuilt(Model, Assumptions, layout, cables);
        built.Close([]);
        var operation = new NetworkOperation(built, NetworkLimits.None);
        refusal = operation.Run() == NetworkFailure.None ? null : CarriedPower.Refusal(built);
        return refusal is null ? new NetworkPoint(this, built, operation, NetworkLimits.None) : null;
    }

    // What the circuit draws as recorded, A; 0 where it has no operating point.
    private double RecordedAmps()
    {
        if (recordedAmps is { } known) return known;
        var amps = WithoutLimits(out _)?.DriverAmps ?? 0;
        recordedAmps = amps;
        return amps;
    }
}
