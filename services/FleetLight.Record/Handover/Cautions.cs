using FleetLight.Contracts.Views;

namespace FleetLight.Record.Handover;

/// <summary>What whoever owns or works on a site has to mind (common practice, no source). Local codes and licensed practice come first.</summary>
internal static class Cautions
{
    private static readonly HandoverCaution Mains = new(
        "Mains side",
        "Work on the supply, its protection and the primary side of drivers is for persons licensed for it where the law asks for that. "
        + "Isolate, secure against switching on, and prove dead before anything is opened.");

    private static readonly HandoverCaution[] Always =
    [
        new(
            "Isolation on the low side",
            "Switch the driver off and wait until it has discharged before a box or fitting is opened. A constant-current driver may put its full "
            + "open-circuit voltage across a break: never open or close its loop while it is energised."),
        new(
            "Digging",
            "Have buried services located on the spot before the ground is opened, and dig by hand near them as local rules ask. Positions and depths in "
            + "this pack are what was recorded; ground moves, and a duct's colour does not say what it holds."),
        new(
            "Light and eyes",
            "Do not look into a lit LED fitting at arm's length, nor through a magnifier or camera lens. Angle and glare shields go back as they were."),
        new(
            "Changing fittings and lamps",
            "Replace like with like: the same rated power, current or voltage, polarity and protection against water. A fitting of another wattage changes "
            + "what the whole circuit reads, and may take the driver beyond its limit."),
        new("Hot surfaces", "Fittings, and drivers in closed housings, may be hot. Keep mulch, leaves and covers off them."),
        new(
            "What this pack is",
            "It tells what was recorded and what follows from it by stated tolerances. It is advice, never a certificate of compliance or safety, and "
            + "takes the place of no inspection that the law or an insurer asks for."),
    ];

    /// <summary>Those for a site.</summary>
    /// <param name="hasMains">Whether mains is part of the job, or a mains duct lies on the site.</param>
    public static IReadOnlyList<HandoverCaution> Of(bool hasMains) => hasMains
        ? [Mains, .. Always]
        : [Mains with { Says = "No mains work is recorded on this site; every driver is still fed by mains. " + Mains.Says }, .. Always];
}
