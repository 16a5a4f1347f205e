using FleetLight.Contracts.Views;
using FleetLight.Record.Cables;

namespace FleetLight.Record.Rules.Cables;

/// <summary>A cable in use without a label: the next one to open the box must guess.</summary>
public static class CableUnlabelled
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "cable-unlabelled",
        "Cable unlabelled",
        AlertSeverity.Notice,
        "A cable was jointed or a core of it sleeved, and it carries no label at either end.",
        "Label the cable at its ends.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the cable.</summary>
    public static void Find(CableState cable, ICollection<Finding> found)
    {
        if (cable.Labels.Count > 0) return;
        var uses = cable.Joints.Select(joint => (joint.At, joint.Key))
            .Concat(cable.Cores.SelectMany(core => core.Sleeves.Values).Select(sleeve => (sleeve.At, sleeve.Key)))
            .Order().ToList();
        if (uses.Count == 0) return;
        found.Add(Rule.On(
            cable.Subject, "The cable is in use and has no label.", cable.CircuitIds, [uses[0].Key]));
    }
}
