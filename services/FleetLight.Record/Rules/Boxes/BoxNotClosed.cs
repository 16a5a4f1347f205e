using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;

namespace FleetLight.Record.Rules.Boxes;

/// <summary>A box that stands open, or of which nobody knows how it was closed.</summary>
public static class BoxNotClosed
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "box-not-closed",
        "Box not closed after its last joint",
        AlertSeverity.Notice,
        "A joint was made in a box and the box was not recorded as closed since.",
        "Close the box and record how.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the box.</summary>
    public static void Find(BoxState box, ICollection<Finding> found)
    {
        if (box.Joints.Count == 0) return;
        var last = box.Joints.MaxBy(joint => (joint.At, joint.Data.JointId))!;
        if (box.Sealed is { } closed && closed.At >= last.At) return;
        found.Add(Rule.On(
            box.Subject,
            $"The box was not recorded as closed after joint {last.Data.JointId} was made.",
            box.CircuitIds,
            [last.Key]));
    }
}
