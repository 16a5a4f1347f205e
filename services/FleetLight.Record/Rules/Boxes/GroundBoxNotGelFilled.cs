using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;

namespace FleetLight.Record.Rules.Boxes;

/// <summary>A box that will stand in water: only gel keeps the water from its joints.</summary>
public static class GroundBoxNotGelFilled
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "ground-box-not-gel-filled",
        "Box in the ground not filled with gel",
        AlertSeverity.Warning,
        "A box lies flat in the ground and is not filled with gel.",
        "Fill the box with gel and record its closing again.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the box.</summary>
    public static void Find(BoxState box, ICollection<Finding> found)
    {
        if (box.Sealed is not { Data: { Lie: BoxLie.FlatInGround, GelFilled: false } } closed) return;
        found.Add(Rule.On(
            box.Subject, "The box lies flat in the ground and is not filled with gel.", box.CircuitIds, [closed.Key]));
    }
}
