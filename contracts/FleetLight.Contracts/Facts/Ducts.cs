namespace FleetLight.Contracts.Facts;

/// <summary>A duct was laid in its trench.</summary>
[FactType("fleetlight.duct.laid.v1")]
public sealed record DuctLaid : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The duct.</summary>
    [ThingId]
    public required string DuctId { get; init; }

    /// <summary>The service it is for.</summary>
    public required DuctService Service { get; init; }

    /// <summary>Its colour as seen.</summary>
    public required DuctColour Colour { get; init; }

    /// <summary>Build of its wall.</summary>
    public required DuctWall Wall { get; init; }

    /// <summary>Inside diameter, mm, 5 to 600.</summary>
    [Quantity("mm", 5, 600)]
    public required double BoreMillimetres { get; init; }

    /// <summary>Length from end to end, m, 0.1 to 2,000.</summary>
    [Quantity("m", 0.1, 2000)]
    public required double LengthMetres { get; init; }

    /// <summary>Depth of cover to the finished surface, mm, 0 to 5,000.</summary>
    [Quantity("mm", 0, 5000)]
    public double? DepthMillimetres { get; init; }

    /// <summary>Route from the near end to the far end.</summary>
    public GeoLine? Route { get; init; }

    /// <summary>Sum of its bends, degrees, 0 to 1,800.</summary>
    [Quantity("deg", 0, 1800)]
    public double? BendsDegrees { get; init; }

    /// <summary>Where the near end comes up, in words.</summary>
    [Text(200)]
    public string? NearEndAt { get; init; }

    /// <summary>Where the far end comes up, in words.</summary>
    [Text(200)]
    public string? FarEndAt { get; init; }
}

/// <summary>A duct was labelled at one of its ends.</summary>
[FactType("fleetlight.duct.labelled.v1")]
public sealed record DuctLabelled : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The duct.</summary>
    [ThingId]
    public required string DuctId { get; init; }

    /// <summary>What the label says.</summary>
    [Text(80)]
    public required string Label { get; init; }

    /// <summary>The labelled end; none where both are.</summary>
    public RunEnd? End { get; init; }
}

/// <summary>An end of a duct was closed against water and vermin.</summary>
[FactType("fleetlight.duct.plugged.v1")]
public sealed record DuctPlugged : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The duct.</summary>
    [ThingId]
    public required string DuctId { get; init; }

    /// <summary>The plugged end.</summary>
    public required RunEnd End { get; init; }

    /// <summary>What it was closed with.</summary>
    [Text(80)]
    public string? With { get; init; }
}

/// <summary>A draw string was left in a duct for the next cable.</summary>
[FactType("fleetlight.string.left.v1")]
public sealed record StringLeft : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The duct that holds the string.</summary>
    [ThingId]
    public required string DuctId { get; init; }

    /// <summary>How it got there.</summary>
    public required StringMethod Method { get; init; }

    /// <summary>Length of duct that the string runs through, m, 0.1 to 2,000; the duct's own length where absent.</summary>
    [Quantity("m", 0.1, 2000)]
    public double? LengthMetres { get; init; }
}
