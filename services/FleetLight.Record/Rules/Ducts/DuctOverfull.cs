using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A duct so full that the next pull will harm the cables.</summary>
public static class DuctOverfull
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "duct-overfull",
        "Duct too full",
        AlertSeverity.Notice,
        "The cables in a duct fill more of its bore than the usual space factor.",
        "Move a cable to another duct, or correct the bore or the diameters.",
        "space factor of 45 % of the cross-section, On-Site Guide to BS 7671 (IET); for conduit and trunking, "
            + "taken over for ducts");

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.FillPercent is not { } percent || duct.Laid is not { } laid) return;
        if (percent <= DuctFill.GuidancePercent) return;
        found.Add(Rule.On(
            duct.Subject,
            $"The cables fill {Words.Of(percent, "%")} of the bore; {Words.Of(DuctFill.GuidancePercent, "%")} is "
                + "usual at most.",
            duct.CircuitIds,
            [laid.Key, .. duct.Cables.Select(cable => cable.Pull.Key)],
            modelVersion: Electrics.Expected.ModelVersion));
    }
}
