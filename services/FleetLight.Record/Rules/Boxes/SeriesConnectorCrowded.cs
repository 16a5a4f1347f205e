using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;

namespace FleetLight.Record.Rules.Boxes;

/// <summary>In a series joint every connector passes the current from one conductor to one other.</summary>
public static class SeriesConnectorCrowded
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "series-connector-crowded",
        "More than two conductors in a series connector",
        AlertSeverity.Serious,
        "A connector of a series joint holds more than two conductors: fittings are bridged and stay dark.",
        "Remake the joint with at most two conductors in each connector, and record it again under the same joint.",
        Rule.CommonPractice);

    /// <summary>Most conductors in one connector of a series joint (common practice, no source).</summary>
    public const int MostConductors = 2;

    /// <summary>Adds what it finds on the box.</summary>
    public static void Find(BoxState box, ICollection<Finding> found)
    {
        foreach (var joint in box.Joints)
        {
            if (joint.Data.Arrangement != JointArrangement.Series) continue;
            var most = joint.Data.Connectors.Max(connector => connector.Conductors.Length);
            if (most <= MostConductors) continue;
            found.Add(Rule.On(
                box.Subject,
                $"A connector of series joint {joint.Data.JointId} holds {most} conductors; it never holds more "
                    + "than two.",
                [joint.Data.CircuitId],
                [joint.Key],
                joint.Data.JointId));
        }
    }
}
