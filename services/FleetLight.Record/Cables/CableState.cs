using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Cables;

/// <summary>A core of a cable with the facts behind it.</summary>
/// <param name="Core">Its colour or number.</param>
/// <param name="Use">What it is used for.</param>
/// <param name="CircuitId">The circuit it carries.</param>
/// <param name="Sleeves">The newest sleeve at each end.</param>
public sealed record CoreState(
    string Core,
    CoreUse Use,
    string? CircuitId,
    IReadOnlyDictionary<RunEnd, Counted<CoreSleeved>> Sleeves);

/// <summary>What is known of a cable, with the facts behind it: what its rules look at.</summary>
public sealed record CableState
{
    /// <summary>The cable.</summary>
    public required ThingRef Subject { get; init; }

    /// <summary>How it was pulled, newest.</summary>
    public Counted<CablePulled>? Pull { get; init; }

    /// <summary>Its cores in the order of the pull.</summary>
    public required IReadOnlyList<CoreState> Cores { get; init; }

    /// <summary>Its labels, newest of each end.</summary>
    public required IReadOnlyDictionary<RunEnd, Counted<CableLabelled>> Labels { get; init; }

    /// <summary>The joints that hold a core of it, newest state of each joint.</summary>
    public required IReadOnlyList<Counted<JointMade>> Joints { get; init; }

    /// <summary>The circuits on its cores.</summary>
    public required IReadOnlyList<string> CircuitIds { get; init; }

    /// <summary>Whether the joint holds that core of this cable.</summary>
    public required Func<JointMade, string, bool> Holds { get; init; }
}
