using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>When a device was last heard of.</summary>
/// <param name="Source">The device.</param>
/// <param name="LastSeen">When it last handed in.</param>
public sealed record DeviceLine(string Source, DateTimeOffset? LastSeen);

/// <summary>The whole fleet in numbers.</summary>
public sealed record FleetView
{
    /// <summary>Number of sites.</summary>
    public required long Sites { get; init; }

    /// <summary>Number of circuits.</summary>
    public required long Circuits { get; init; }

    /// <summary>Number of circuits in each phase.</summary>
    public required IReadOnlyDictionary<string, long> CircuitsByPhase { get; init; }

    /// <summary>Number of circuits with each verdict.</summary>
    public required IReadOnlyDictionary<string, long> CircuitsByVerdict { get; init; }

    /// <summary>Number of alerts that stand, by severity.</summary>
    public required IReadOnlyDictionary<string, long> OpenAlertsBySeverity { get; init; }

    /// <summary>The devices.</summary>
    public required IReadOnlyList<DeviceLine> Devices { get; init; }
}

/// <summary>A site in the list of the fleet, with what stands on it in numbers.</summary>
public sealed record FleetSiteLine
{
    /// <summary>The site.</summary>
    public required string Id { get; init; }

    /// <summary>What people call it; none until its opening is known.</summary>
    public string? Name { get; init; }

    /// <summary>Where it is, in words.</summary>
    public string? Place { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>Number of circuits.</summary>
    public required long Circuits { get; init; }

    /// <summary>Number of circuits in each phase.</summary>
    public required IReadOnlyDictionary<string, long> CircuitsByPhase { get; init; }

    /// <summary>Number of circuits with each verdict.</summary>
    public required IReadOnlyDictionary<string, long> CircuitsByVerdict { get; init; }

    /// <summary>Number of alerts that stand, by severity.</summary>
    public required IReadOnlyDictionary<string, long> OpenAlertsBySeverity { get; init; }

    /// <summary>When the newest of its facts happened.</summary>
    public DateTimeOffset? LastFactAt { get; init; }
}

/// <summary>What a device recorded on a day, by when it happened.</summary>
public sealed record DeviceDay
{
    /// <summary>The device.</summary>
    public required string Source { get; init; }

    /// <summary>What people call it: the name of its newest key.</summary>
    public string? Name { get; init; }

    /// <summary>Number of facts.</summary>
    public required long Facts { get; init; }

    /// <summary>Number of facts of each type.</summary>
    public required IReadOnlyDictionary<string, long> FactsByType { get; init; }

    /// <summary>The sites that its facts name, those with the most facts first.</summary>
    public required IReadOnlyList<DeviceDaySite> Sites { get; init; }

    /// <summary>When the first of them happened.</summary>
    public required DateTimeOffset FirstAt { get; init; }

    /// <summary>When the last of them happened.</summary>
    public required DateTimeOffset LastAt { get; init; }
}

/// <summary>A site on which a device worked on a day.</summary>
public sealed record DeviceDaySite
{
    /// <summary>The site.</summary>
    public required string Id { get; init; }

    /// <summary>What people call it; none until its opening is known.</summary>
    public string? Name { get; init; }

    /// <summary>Number of facts.</summary>
    public required long Facts { get; init; }

    /// <summary>When the first of them happened.</summary>
    public required DateTimeOffset FirstAt { get; init; }

    /// <summary>When the last of them happened.</summary>
    public required DateTimeOffset LastAt { get; init; }
}

/// <summary>What was done on a day.</summary>
public sealed record FleetDayView
{
    /// <summary>The day.</summary>
    public required DateOnly Date { get; init; }

    /// <summary>When it began.</summary>
    public required DateTimeOffset From { get; init; }

    /// <summary>When it ended, not included.</summary>
    public required DateTimeOffset To { get; init; }

    /// <summary>Number of facts of all devices.</summary>
    public required long Facts { get; init; }

    /// <summary>The devices that recorded anything, in the order of their sources.</summary>
    public required IReadOnlyList<DeviceDay> Devices { get; init; }
}
