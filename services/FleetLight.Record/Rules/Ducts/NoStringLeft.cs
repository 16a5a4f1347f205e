using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A pull that used the string up and left none: the next cable cannot follow.</summary>
public static class NoStringLeft
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "no-string-left",
        "No string left",
        AlertSeverity.Notice,
        "A cable was pulled through a duct and no string was left for the next one. Ducts for water and gas are "
            + "left out.",
        "Leave a string in the duct, or pull one in behind the next cable.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Cables.Count == 0 || duct.LastPull is not { } pull || duct.StringInside is not null) return;
        if (duct.Laid?.Data.Service is DuctService.Water or DuctService.Gas) return;
        found.Add(Rule.On(
            duct.Subject, "No string was left in the duct after the last pull.", duct.CircuitIds, [pull.Key]));
    }
}
