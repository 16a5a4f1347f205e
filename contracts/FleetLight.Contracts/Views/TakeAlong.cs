namespace FleetLight.Contracts.Views;

/// <summary>Kinds of thing to take along.</summary>
public enum TakeAlongItem
{
    /// <summary>A multimeter for direct voltage, current and resistance.</summary>
    Meter,

    /// <summary>A tester of insulation resistance.</summary>
    InsulationTester,

    /// <summary>A tester of residual current devices.</summary>
    ResidualCurrentTester,

    /// <summary>What proves a circuit dead, with what proves the prover.</summary>
    VoltageProver,

    /// <summary>What opens the cover of a box.</summary>
    CoverKey,

    /// <summary>Connectors for a joint.</summary>
    Connector,

    /// <summary>Gel for a box or a joint.</summary>
    Gel,

    /// <summary>A box.</summary>
    Box,

    /// <summary>A vent, drain or gland by which a box breathes.</summary>
    BreathingGland,

    /// <summary>What holds a cable against pull.</summary>
    StrainRelief,

    /// <summary>A label for a box.</summary>
    BoxLabel,

    /// <summary>Label tape for a duct or a cable.</summary>
    LabelTape,

    /// <summary>Polarity sleeves for cores.</summary>
    PolaritySleeve,

    /// <summary>A fitting.</summary>
    Fitting,

    /// <summary>A driver.</summary>
    Driver,

    /// <summary>A residual current device.</summary>
    ResidualCurrentDevice,

    /// <summary>Cable.</summary>
    Cable,

    /// <summary>Duct.</summary>
    Duct,

    /// <summary>Draw string.</summary>
    DrawString,

    /// <summary>A plug for the end of a duct.</summary>
    DuctPlug,

    /// <summary>A box or pit at which a cable is pulled.</summary>
    PullPoint,

    /// <summary>What finds buried services, and the drawings of them.</summary>
    ServiceLocator,

    /// <summary>Tools to dig by hand.</summary>
    HandDiggingTools,
}

/// <summary>Why something is to be taken along.</summary>
/// <param name="AlertId">The alert.</param>
/// <param name="Says">What it is for, in plain words.</param>
public sealed record TakeAlongReason(string AlertId, string Says);

/// <summary>Something to take along on a visit.</summary>
public sealed record TakeAlongLine
{
    /// <summary>What kind of thing.</summary>
    public required TakeAlongItem Item { get; init; }

    /// <summary>What, in plain words, with how much of it and which size.</summary>
    public required string What { get; init; }

    /// <summary>Number of pieces; absent for what comes by length.</summary>
    public int? Pieces { get; init; }

    /// <summary>Length, m.</summary>
    public double? LengthMetres { get; init; }

    /// <summary>Number of conductors that a connector takes.</summary>
    public int? ConductorsEach { get; init; }

    /// <summary>Inside diameter of the duct, mm.</summary>
    public double? BoreMillimetres { get; init; }

    /// <summary>Conductor area, mm².</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>Rated power of a fitting, W.</summary>
    public double? RatedWatts { get; init; }

    /// <summary>What a label says.</summary>
    public string? Label { get; init; }

    /// <summary>What the quantity or the choice rests on where the record does not say it; absent where it does.</summary>
    public string? Assumed { get; init; }

    /// <summary>Which alerts ask for it.</summary>
    public required IReadOnlyList<TakeAlongReason> Why { get; init; }
}

/// <summary>What to take along on a visit. Advice: whoever goes knows better what the van holds.</summary>
public sealed record TakeAlongView
{
    /// <summary>The things.</summary>
    public required IReadOnlyList<TakeAlongLine> Lines { get; init; }

    /// <summary>What to mind for safe work, said once for the visit. Local codes and a licensed person's word come first.</summary>
    public required IReadOnlyList<string> Cautions { get; init; }

    /// <summary>What nothing could be said of, and why, in plain words.</summary>
    public required IReadOnlyList<string> Open { get; init; }
}
