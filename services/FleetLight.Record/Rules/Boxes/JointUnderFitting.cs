using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;

namespace FleetLight.Record.Rules.Boxes;

/// <summary>A joint where the fitting must come out before anybody can reach it.</summary>
public static class JointUnderFitting
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "joint-under-fitting",
        "Joint directly under a fitting",
        AlertSeverity.Warning,
        "A joint sits directly under a fitting, where heat and dripping water reach it and nobody else can.",
        "Move the joint aside into a box that can be opened, and record it again under the same joint.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the box.</summary>
    public static void Find(BoxState box, ICollection<Finding> found)
    {
        foreach (var joint in box.Joints)
            if (joint.Data.UnderFitting)
            {
                found.Add(Rule.On(
                    box.Subject,
                    $"Joint {joint.Data.JointId} sits directly under a fitting.",
                    [joint.Data.CircuitId],
                    [joint.Key],
                    joint.Data.JointId));
            }
    }
}
