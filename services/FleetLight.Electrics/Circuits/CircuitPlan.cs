using System.Collections.Immutable;
using System.Runtime.InteropServices;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// A circuit laid out once, from which its operating point follows as recorded or with changes, and with any of its
/// uncertain inputs away from its best estimate. It is the one place that knows the physics: expected readings,
/// their uncertainty, simulation and diagnosis all ask it.
/// </summary>
internal abstract class CircuitPlan
{
    private readonly Dictionary<string, int> fittings;

    private protected CircuitPlan(CircuitModel model, Assumptions assumptions)
    {
        Model = model with { Fittings = model.Fittings.OrEmpty(), Runs = model.Runs.OrEmpty() };
        Assumptions = assumptions;
        Inputs = Shapes(Model);
        fittings = new Dictionary<string, int>(Model.Fittings.Length, StringComparer.Ordinal);
        for (var i = 0; i < Model.Fittings.Length; i++) fittings[Model.Fittings[i].Id] = i;
    }

    /// <summary>The circuit as recorded; its arrays are never unset.</summary>
    public CircuitModel Model { get; }

    /// <summary>What is assumed where the record is silent.</summary>
    public Assumptions Assumptions { get; }

    /// <summary>
    /// The independent uncertain inputs, in the order of <see cref="Input"/>: the shared ones, then one per fitting of
    /// the model, then one per run of the model, then one for fittings that are not in the model.
    /// </summary>
    public ImmutableArray<InputShape> Inputs { get; }

    /// <summary>Lays a circuit out, or says why it cannot be worked out.</summary>
    /// <param name="model">The circuit. Any content is answered.</param>
    /// <param name="assumptions">What is assumed where the record is silent; the stated defaults if null.</param>
    /// <param name="refusal">Why not; null where a plan is returned.</param>
    public static CircuitPlan? TryLay(CircuitModel? model, Assumptions? assumptions, out CannotExpect? refusal)
    {
        var assumed = assumptions ?? Assumptions.Default;
        refusal = CircuitCheck.FirstObstacle(model, assumed);
        if (refusal is not null || model is null) return null;
        return model.Drive == DriveKind.ConstantCurrent
            ? new SeriesPlan(model, assumed)
            : NetworkPlan.Lay(model, assumed, out refusal);
    }

    /// <summary>Index of a fitting in the model; −1 where there is none of that id.</summary>
    public int FittingAt(string? id) => id is not null && fittings.TryGetValue(id, out var at) ? at : -1;

    /// <summary>The circuit at its operating point; null where it has none.</summary>
    /// <param name="changes">How it differs from its record; changes of the meter are not looked at.</param>
    /// <param name="deviations">
    /// How far each input is from its best estimate, in its standard uncertainties; empty for none.
    /// </param>
    public ICircuitState? Solve(ImmutableArray<CircuitChange> changes, ReadOnlySpan<double> deviations) =>
        Solve(changes, deviations, out _);

    /// <summary>The circuit at its operating point, or why it has none.</summary>
    /// <param name="changes">How it differs from its record; changes of the meter are not looked at.</param>
    /// <param name="deviations">
    /// How far each input is from its best estimate, in its standard uncertainties; empty for none.
    /// </param>
    /// <param name="refusal">
    /// Why not: the voltage collapses, the driver's limit leaves no operating point, or a change names a part that is
    /// not there or a figure that cannot be.
    /// </param>
    public abstract ICircuitState? Solve(
        ImmutableArray<CircuitChange> changes, ReadOnlySpan<double> deviations, out CannotExpect? refusal);

    private static ImmutableArray<InputShape> Shapes(CircuitModel model)
    {
        var shapes = new InputShape[Input.Count(model)];
        shapes[Input.DriverOutput] = new(UncertaintySource.DriverOutput, true);
        shapes[Input.FittingTemperature] = new(UncertaintySource.FittingTemperature, false);
        shapes[Input.Conductor] = new(UncertaintySource.ConductorResistance, true);
        for (var i = 0; i < Cable.TemperatureGroups; i++)
            shapes[Input.Temperature + i] = new(UncertaintySource.ConductorTemperature, false);
        for (var i = 0; i < model.Fittings.Length; i++)
            shapes[Input.FirstFitting + i] = new(UncertaintySource.FittingPower, true);
        for (var r = 0; r < model.Runs.Length; r++)
            shapes[Input.OfRun(model, r)] = new(UncertaintySource.CableLength, true);
        shapes[Input.OfAdded(model)] = new(UncertaintySource.FittingPower, true);
        return ImmutableCollectionsMarshal.AsImmutableArray(shapes);
    }
}

/// <summary>One uncertain input: what it is and how it is spread.</summary>
/// <param name="Source">What it is.</param>
/// <param name="IsRectangular">Whether its limits are all that is known of it; otherwise it is normal.</param>
internal readonly record struct InputShape(UncertaintySource Source, bool IsRectangular);
