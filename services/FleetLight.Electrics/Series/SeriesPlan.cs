using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A constant-current series loop, laid out.</summary>
internal sealed class SeriesPlan : CircuitPlan
{
    /// <summary>
    /// Most connections between the cores, each within the one before, that are worked out together; each one more
    /// multiplies the time.
    /// </summary>
    public const int MostBridges = 4;

    private readonly LoopLayout layout;
    private readonly CableSet cables;

    public SeriesPlan(CircuitModel model, Assumptions assumptions)
        : base(model, assumptions)
    {
        layout = LoopLayout.Of(Model);
        cables = new CableSet(Model, assumptions);
        Places = layout.Places(Model);
        RecordedVolts = AtRatedCurrent();
    }

    /// <summary>The places whose readings may be predicted.</summary>
    public ImmutableArray<string> Places { get; }

    /// <summary>What the loop needs as recorded, V.</summary>
    public double RecordedVolts { get; }

    /// <inheritdoc/>
    public override ICircuitState? Solve(
        ImmutableArray<CircuitChange> changes, ReadOnlySpan<double> deviations, out CannotExpect? refusal)
    {
        refusal = null;
        var built = new LoopBuilt(Model, Assumptions, layout, cables);
        if (!built.TryTake(changes, out var failed))
        {
            refusal = new CannotExpect(
                RefusalReason.OutOfRange, "The change names what is not there, or its figure cannot be.",
                $"changes[{failed}]");
            return null;
        }

        if (built.Bridges.Count > MostBridges)
        {
            refusal = new CannotExpect(
                RefusalReason.OutOfRange, "More connections between the cores than are worked out together.", "changes");
            return null;
        }

        built.Close(deviations);
        var deviation = BuiltCircuit.At(deviations, Input.DriverOutput);
        return new SeriesPoint(this, built, new DriverLimits(Model.Driver, RecordedVolts, deviation));
    }

    /// <summary>The circuit as recorded.</summary>
    public SeriesPoint WithLimits() => Recorded(Model.Driver);

    /// <summary>The circuit as recorded if its driver could give any voltage and power.</summary>
    public SeriesPoint WithoutLimits() => Recorded(Model.Driver with { MostVolts = null, MostWatts = null });

    private SeriesPoint Recorded(DriverModel driver)
    {
        var built = new LoopBuilt(Model, Assumptions, layout, cables);
        built.Close([]);
        return new SeriesPoint(this, built, new DriverLimits(driver, RecordedVolts, 0));
    }

    private double AtRatedCurrent()
    {
        var built = new LoopBuilt(Model, Assumptions, layout, cables);
        built.Close([]);
        double volts = 0;
        foreach (var part in built.Parts) volts += part.VoltsAt(built.Amps) + (part.TailOhms * built.Amps);
        foreach (var ohms in built.RunOhms) volts += ohms * built.Amps;
        return volts;
    }
}
