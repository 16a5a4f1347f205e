using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;

namespace FleetLight.Record.Rules.Boxes;

/// <summary>A sealed box in the open: day and night pump damp air in, and the water stays.</summary>
public static class BoxCannotBreathe
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "box-cannot-breathe",
        "Box above ground cannot breathe",
        AlertSeverity.Warning,
        "A box on a wall or a spike was sealed with no way to breathe, and is not filled with gel either.",
        "Give the box a vent, a drain or a gland made for it, and record its closing again.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the box.</summary>
    public static void Find(BoxState box, ICollection<Finding> found)
    {
        if (box.Sealed is not { Data: { Breathing: false, GelFilled: false } } closed) return;
        if (closed.Data.Lie is not (BoxLie.OnWall or BoxLie.OnSpike)) return;
        var lies = closed.Data.Lie == BoxLie.OnWall ? "on a wall" : "on a spike";
        found.Add(Rule.On(
            box.Subject, $"The box {lies} is sealed and has no way to breathe.", box.CircuitIds, [closed.Key]));
    }
}
