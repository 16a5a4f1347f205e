using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A mains duct within reach of a spade.</summary>
public static class MainsDuctShallow
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "mains-duct-shallow",
        "Mains duct laid shallow",
        AlertSeverity.Warning,
        "A duct for mains supply has less cover than network operators ask for in footways and unmade ground.",
        "Lower or cover the duct as the local code asks, or correct the depth.",
        "450 mm in footway and unmade ground by a UK network operator's cable specification; BS 7671 522.8.10 "
            + "gives no number; the local code decides");

    /// <summary>Least cover, mm.</summary>
    public const double LeastMillimetres = 450;

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Laid is not { Data: { Service: DuctService.MainsSupply, DepthMillimetres: { } depth } } laid) return;
        if (depth >= LeastMillimetres) return;
        found.Add(Rule.On(
            duct.Subject,
            $"The duct is for mains supply and has {Words.Of(depth, "mm")} of cover; "
                + $"{Words.Of(LeastMillimetres, "mm")} is usual at least.",
            duct.CircuitIds,
            [laid.Key]));
    }
}
