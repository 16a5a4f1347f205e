using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>The sites that a device is assigned.</summary>
public sealed record AssignedSites
{
    /// <summary>Their ids, at most 200; they need not be open yet.</summary>
    [List(0, 200)]
    [ThingId]
    public required string[] Sites { get; init; }
}

/// <summary>What ended with a lost device.</summary>
public sealed record LostDevice
{
    /// <summary>The device.</summary>
    public required string Source { get; init; }

    /// <summary>Public parts of the keys that were revoked.</summary>
    public required IReadOnlyList<string> RevokedKeys { get; init; }

    /// <summary>Ids of the enrolments that were taken back.</summary>
    public required IReadOnlyList<string> WithdrawnEnrolments { get; init; }
}
