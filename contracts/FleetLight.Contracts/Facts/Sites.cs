namespace FleetLight.Contracts.Facts;

/// <summary>What the job calls for where a service's ducts are laid.</summary>
public sealed record DuctCall
{
    /// <summary>The service.</summary>
    public required DuctService Service { get; init; }

    /// <summary>The wall kind called for.</summary>
    public DuctWall? Wall { get; init; }

    /// <summary>The colour called for, where the site departs from the usual one.</summary>
    public DuctColour? Colour { get; init; }
}

/// <summary>Work on a site began.</summary>
[FactType("fleetlight.site.opened.v1")]
public sealed record SiteOpened : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>What people call it.</summary>
    [Text(120)]
    public required string Name { get; init; }

    /// <summary>Where it is, in words.</summary>
    [Text(200)]
    public string? Place { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>What the job calls for, service by service.</summary>
    [List(0, 12)]
    public DuctCall[]? DuctCalls { get; init; }
}
