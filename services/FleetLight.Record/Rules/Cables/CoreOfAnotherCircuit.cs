using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Cables;

namespace FleetLight.Record.Rules.Cables;

/// <summary>A core in the wrong joint, or a record that will mislead whoever looks for the spare one.</summary>
public static class CoreOfAnotherCircuit
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "core-of-another-circuit",
        "Core jointed into another circuit",
        AlertSeverity.Warning,
        "A joint of one circuit holds a core that is recorded as carrying another.",
        "Check the joint; correct the cable's cores or the joint, whichever is recorded wrong.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the cable.</summary>
    public static void Find(CableState cable, ICollection<Finding> found)
    {
        foreach (var joint in cable.Joints)
            foreach (var core in cable.Cores)
            {
                if (cable.Pull is not { } pull || core is not { Use: CoreUse.Circuit, CircuitId: { } circuit }) continue;
                if (circuit == joint.Data.CircuitId || !cable.Holds(joint.Data, core.Core)) continue;
                found.Add(Rule.On(
                    cable.Subject,
                    $"Joint {joint.Data.JointId} of circuit {joint.Data.CircuitId} holds core {core.Core}, "
                        + $"recorded as carrying {circuit}.",
                    [.. new[] { circuit, joint.Data.CircuitId }.Order(StringComparer.Ordinal)],
                    [pull.Key, joint.Key],
                    $"{joint.Data.JointId}:{core.Core}"));
            }
    }
}
