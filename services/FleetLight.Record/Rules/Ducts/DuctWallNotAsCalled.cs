using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A duct of another wall kind than the job calls for.</summary>
public static class DuctWallNotAsCalled
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "duct-wall-not-as-called",
        "Wall kind not as called for",
        AlertSeverity.Warning,
        "The wall of the duct is of another kind than the site calls for where ducts of its service are laid.",
        "Lay the wall kind called for, or record what the site now calls for.",
        "the site's own call");

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Laid is not { } laid || duct.Call?.Wall is not { } called || laid.Data.Wall == called) return;
        found.Add(Rule.On(
            duct.Subject,
            $"The duct's wall is {Words.Said(laid.Data.Wall)}; the site calls for {Words.Said(called)} for "
                + $"{Words.Said(laid.Data.Service)}.",
            duct.CircuitIds,
            [laid.Key]));
    }
}
