using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// A circuit laid out once, from which its operating point follows as recorded or with changes, and with any of its
/// uncertain inputs away from its best estimate. It is the one place that knows the physics: expected readings,
/// their uncertainty, simulation and diagnosis all ask it.
/// </summary>
internal abstract class CircuitPlan
{
    /// <summary>The circuit as recorded.</summary>
    public abstract CircuitModel Model { get; }

    /// <summary>
    /// The independent uncertain inputs, in the order of <see cref="Input"/>: the shared ones, then one per fitting of the
    /// model, then one per run of the model.
    /// </summary>
    public abstract ImmutableArray<InputShape> Inputs { get; }

    /// <summary>The circuit at its operating point; null where it has none (the voltage collapses).</summary>
    /// <param name="changes">How it differs from its record; changes of the meter are not looked at.</param>
    /// <param name="deviations">
    /// How far each input is from its best estimate, in its standard uncertainties; empty for none.
    /// </param>
    public abstract ICircuitState? Solve(ImmutableArray<CircuitChange> changes, ReadOnlySpan<double> deviations);
}

/// <summary>One uncertain input: what it is and how it is spread.</summary>
/// <param name="Source">What it is.</param>
/// <param name="IsRectangular">Whether its limits are all that is known of it; otherwise it is normal.</param>
internal readonly record struct InputShape(UncertaintySource Source, bool IsRectangular);
