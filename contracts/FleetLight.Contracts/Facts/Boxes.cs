namespace FleetLight.Contracts.Facts;

/// <summary>A box was closed.</summary>
[FactType("fleetlight.box.sealed.v1")]
public sealed record BoxSealed : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The box.</summary>
    [ThingId]
    public required string BoxId { get; init; }

    /// <summary>How it lies.</summary>
    public required BoxLie Lie { get; init; }

    /// <summary>How its cables enter.</summary>
    public required BoxEntry Entry { get; init; }

    /// <summary>Whether the cables are held against pull.</summary>
    public required bool StrainRelief { get; init; }

    /// <summary>Whether it is filled with gel.</summary>
    public required bool GelFilled { get; init; }

    /// <summary>Whether it can breathe: a vent, a drain or a gland made for it.</summary>
    public required bool Breathing { get; init; }

    /// <summary>What it is called on site or on its label.</summary>
    [Text(80)]
    public string? Label { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }
}

/// <summary>One conductor end held by a connector: a core of a cable, or a lead of a fitting.</summary>
public sealed record HeldConductor
{
    /// <summary>The cable, where it is a cable's core.</summary>
    [ThingId]
    public string? CableId { get; init; }

    /// <summary>The fitting, where it is a fitting's lead.</summary>
    [ThingId]
    public string? FittingId { get; init; }

    /// <summary>The core or lead: its colour or number.</summary>
    [Text(32)]
    public required string Core { get; init; }
}

/// <summary>One connector of a joint and the conductors it holds.</summary>
public sealed record Connector
{
    /// <summary>The conductors, 1 to 12.</summary>
    [List(1, 12)]
    public required HeldConductor[] Conductors { get; init; }
}

/// <summary>A joint was made in a box.</summary>
[FactType("fleetlight.joint.made.v1")]
public sealed record JointMade : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The box it is in.</summary>
    [ThingId]
    public required string BoxId { get; init; }

    /// <summary>The joint; a later fact with the same joint describes it as remade.</summary>
    [ThingId]
    public required string JointId { get; init; }

    /// <summary>The circuit it serves.</summary>
    [ThingId]
    public required string CircuitId { get; init; }

    /// <summary>How it is arranged.</summary>
    public required JointArrangement Arrangement { get; init; }

    /// <summary>Its connectors.</summary>
    [List(1, 24)]
    public required Connector[] Connectors { get; init; }

    /// <summary>Whether it sits directly under a fitting.</summary>
    public bool UnderFitting { get; init; }
}
