using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A duct in use without a label: nobody will know later what runs where.</summary>
public static class DuctUnlabelled
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "duct-unlabelled",
        "Duct unlabelled",
        AlertSeverity.Notice,
        "A cable lies in a duct that carries no label at either end.",
        "Label the duct at its ends.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Cables.Count == 0 || duct.Labels.Count > 0) return;
        found.Add(Rule.On(
            duct.Subject,
            "The duct holds a cable and has no label.",
            duct.CircuitIds,
            [duct.Cables[0].Pull.Key]));
    }
}
