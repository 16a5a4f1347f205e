using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A cable where somebody will look for a pipe, or the other way round.</summary>
public static class CableWithWaterOrGas
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "cable-in-water-or-gas-duct",
        "Cable in a duct for water or gas",
        AlertSeverity.Serious,
        "A cable lies in a duct that was laid for water or gas.",
        "Move the cable to a duct of its own, or correct the record.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Laid is not { } laid || laid.Data.Service is not (DuctService.Water or DuctService.Gas)) return;
        if (duct.Cables.Count == 0) return;
        var cables = string.Join(", ", duct.Cables.Select(cable => cable.CableId));
        found.Add(Rule.On(
            duct.Subject,
            $"The duct is for {Words.Said(laid.Data.Service)} and holds {cables}.",
            duct.CircuitIds,
            [laid.Key, .. duct.Cables.Select(cable => cable.Pull.Key)]));
    }
}
