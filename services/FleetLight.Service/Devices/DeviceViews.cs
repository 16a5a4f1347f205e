using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;

namespace FleetLight.Service.Devices;

/// <summary>A device of the organisation.</summary>
public sealed record DeviceView
{
    /// <summary>The device: the <c>source</c> of its facts.</summary>
    public required string Source { get; init; }

    /// <summary>What people call it: the name of its newest key.</summary>
    public string? Name { get; init; }

    /// <summary>What it calls itself.</summary>
    public string? Device { get; init; }

    /// <summary>The role of its newest key, where it was made with one.</summary>
    public Role? Role { get; init; }

    /// <summary>Whether any key of it is in force.</summary>
    public required bool HasKey { get; init; }

    /// <summary>When it last handed something in.</summary>
    public DateTimeOffset? LastSeen { get; init; }

    /// <summary>How far it is complete.</summary>
    public required Receipt Receipt { get; init; }

    /// <summary>Ids of the sites that it is assigned.</summary>
    public required IReadOnlyList<string> Sites { get; init; }
}
