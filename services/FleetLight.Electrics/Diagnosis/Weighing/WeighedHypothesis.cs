using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>One fault in one place, or a piece of the range of its figure, with its weight given the readings.</summary>
internal sealed class WeighedHypothesis
{
    /// <summary>The entry of the catalogue.</summary>
    public required FaultDefinition Definition { get; init; }

    /// <summary>The way or place.</summary>
    public required FaultCase Case { get; init; }

    /// <summary>Logarithm of prior times density of the readings.</summary>
    public required double LogWeight { get; init; }

    /// <summary>Its kind.</summary>
    public FaultKind Kind => Definition.Kind;

    /// <summary>How the circuit differs from its record.</summary>
    public ImmutableArray<CircuitChange> Changes { get; init; } = [];

    /// <summary>Its figure; NaN where none.</summary>
    public double Figure { get; init; } = double.NaN;

    /// <summary>The figure one standard deviation further, where it is free; NaN where not.</summary>
    public double FigureBeside { get; init; } = double.NaN;

    /// <summary>The row that it takes for a slip of the pen; −1 where none.</summary>
    public int SlipRow { get; init; } = -1;

    /// <summary>Probability given all readings, 0 to 1.</summary>
    public double Probability { get; set; }

    /// <summary>The circuit; null for "none of these" as a whole.</summary>
    public ICircuitState? State { get; set; }

    /// <summary>The circuit with its free figure one standard deviation further; null where none is free.</summary>
    public ICircuitState? Beside { get; set; }

    /// <summary>What it makes of the readings; null for "none of these" as a whole.</summary>
    public Observation? Seen { get; set; }

    /// <summary>The same with its free figure one standard deviation further.</summary>
    public Observation? SeenBeside { get; set; }

    /// <summary>Index of its explanation in the result; −1 where that is too unlikely to be listed.</summary>
    public int Explanation { get; set; } = -1;

    /// <summary>Number of its group in the result; −1 where that is too unlikely to be listed.</summary>
    public int Group { get; set; } = -1;
}
