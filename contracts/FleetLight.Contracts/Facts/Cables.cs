namespace FleetLight.Contracts.Facts;

/// <summary>What one core of a cable is used for.</summary>
public sealed record CoreAssignment
{
    /// <summary>The core: its colour or number as printed.</summary>
    [Text(32)]
    public required string Core { get; init; }

    /// <summary>What it is used for.</summary>
    public required CoreUse Use { get; init; }

    /// <summary>The circuit it carries, where it carries one.</summary>
    [ThingId]
    public string? CircuitId { get; init; }
}

/// <summary>A cable was pulled in.</summary>
[FactType("fleetlight.cable.pulled.v1")]
public sealed record CablePulled : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The cable.</summary>
    [ThingId]
    public required string CableId { get; init; }

    /// <summary>The ducts it passes, in order from the supply; empty where it lies in none.</summary>
    [ThingId]
    [List(0, 40)]
    public required string[] DuctIds { get; init; }

    /// <summary>Length pulled, m, 0.1 to 5,000.</summary>
    [Quantity("m", 0.1, 5000)]
    public required double LengthMetres { get; init; }

    /// <summary>Conductor area, mm², 0.2 to 50.</summary>
    [Quantity("mm2", 0.2, 50)]
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>Conductor class of IEC 60228.</summary>
    public required ConductorClass ConductorClass { get; init; }

    /// <summary>Every core and its use.</summary>
    [List(1, 61)]
    public required CoreAssignment[] Cores { get; init; }

    /// <summary>Outside diameter, mm, 1 to 100.</summary>
    [Quantity("mm", 1, 100)]
    public double? OutsideDiameterMillimetres { get; init; }
}

/// <summary>A cable was labelled at one of its ends.</summary>
[FactType("fleetlight.cable.labelled.v1")]
public sealed record CableLabelled : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The cable.</summary>
    [ThingId]
    public required string CableId { get; init; }

    /// <summary>What the label says.</summary>
    [Text(80)]
    public required string Label { get; init; }

    /// <summary>The labelled end; none where both are.</summary>
    public RunEnd? End { get; init; }
}

/// <summary>A core was sleeved to show its polarity.</summary>
[FactType("fleetlight.core.sleeved.v1")]
public sealed record CoreSleeved : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The cable.</summary>
    [ThingId]
    public required string CableId { get; init; }

    /// <summary>The core: its colour or number as printed.</summary>
    [Text(32)]
    public required string Core { get; init; }

    /// <summary>Polarity that the sleeve says.</summary>
    public required CorePolarity Polarity { get; init; }

    /// <summary>The end where the sleeve is.</summary>
    public required RunEnd End { get; init; }
}
