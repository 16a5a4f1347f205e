using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Boxes;

/// <summary>What is known of a box, with the facts behind it: what its rules look at.</summary>
public sealed record BoxState
{
    /// <summary>The box.</summary>
    public required ThingRef Subject { get; init; }

    /// <summary>How it was closed, newest.</summary>
    public Counted<BoxSealed>? Sealed { get; init; }

    /// <summary>Its joints, newest state of each, by joint.</summary>
    public required IReadOnlyList<Counted<JointMade>> Joints { get; init; }

    /// <summary>The circuits of its joints.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }
}
