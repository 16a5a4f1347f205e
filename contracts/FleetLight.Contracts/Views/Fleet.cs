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
