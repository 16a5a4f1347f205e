using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Boxes;

namespace FleetLight.Record.Rules.Boxes;

/// <summary>A membrane seals, it does not hold: a tug loosens the joint.</summary>
public static class MembraneWithoutStrainRelief
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "membrane-without-strain-relief",
        "Membrane entry without strain relief",
        AlertSeverity.Warning,
        "Cables enter a box through a membrane and nothing holds them against pull.",
        "Hold the cables against pull and record the closing again.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the box.</summary>
    public static void Find(BoxState box, ICollection<Finding> found)
    {
        if (box.Sealed is not { Data: { Entry: BoxEntry.Membrane, StrainRelief: false } } closed) return;
        found.Add(Rule.On(
            box.Subject,
            "The cables enter through a membrane and are not held against pull.",
            box.CircuitIds,
            [closed.Key]));
    }
}
