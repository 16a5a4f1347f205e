using FleetLight.Contracts;
using FleetLight.Record.Cables;

namespace FleetLight.Record.Circuits;

/// <summary>The cable that makes a run of a circuit, as far as it is recorded as pulled.</summary>
/// <param name="RunId">The run of the design.</param>
/// <param name="CableId">The cable.</param>
/// <param name="Cores">Its cores in the order of the pull.</param>
public sealed record RunCable(string RunId, string CableId, IReadOnlyList<RunCore> Cores)
{
    /// <summary>How many of its cores are really spare.</summary>
    public int SpareCores => Cores.Count(core => core.TakenBy is null);

    internal static RunCable Of(string run, string cable, CableState state) =>
        new(run, cable, [.. state.Cores.Select(core => new RunCore(core.Core, TakenBy(core, state)))]);

    private static string? TakenBy(CoreState core, CableState state) => core switch
    {
        { Use: CoreUse.Circuit, CircuitId: { } circuit } => $"carries circuit {circuit}",
        { Use: not CoreUse.Spare } => "is the protective conductor",
        _ => state.Joints.Select(joint => joint.Data).FirstOrDefault(joint => IsJoined(joint, core.Core, state)) is { } joint
            ? $"is held by joint {joint.JointId} in box {joint.BoxId}"
            : null,
    };

    // A spare core that stands alone in its connector is only parked there.
    private static bool IsJoined(Contracts.Facts.JointMade joint, string core, CableState state) => joint.Connectors.Any(
        connector => connector.Conductors.Length > 1 && state.Holds(joint with { Connectors = [connector] }, core));
}

/// <summary>A core of the cable of a run.</summary>
/// <param name="Core">Its colour or number.</param>
/// <param name="TakenBy">What it is used for, in words; null where it is spare.</param>
public sealed record RunCore(string Core, string? TakenBy);
