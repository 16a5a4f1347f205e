using FleetLight.Contracts.Views;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Ducts;

/// <summary>A duct with so many bends that a cable may not go through.</summary>
public static class DuctBendsTooMany
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "duct-bends-too-many",
        "Too many bends between pull points",
        AlertSeverity.Notice,
        "The bends of a duct add up to more than 360 degrees.",
        "Set a pull point between the bends, or correct the record.",
        "NFPA 70 (NEC) 352.26: at most 360 degrees between pull points");

    /// <summary>Greatest sum of bends between pull points, degrees.</summary>
    public const double MostDegrees = 360;

    /// <summary>Adds what it finds on the duct.</summary>
    public static void Find(DuctState duct, ICollection<Finding> found)
    {
        if (duct.Laid is not { Data.BendsDegrees: { } degrees } laid || degrees <= MostDegrees) return;
        found.Add(Rule.On(
            duct.Subject,
            $"The bends of the duct add up to {Words.Of(degrees, "°")}; {Words.Of(MostDegrees, "°")} between pull "
                + "points is the most.",
            duct.CircuitIds,
            [laid.Key]));
    }
}
