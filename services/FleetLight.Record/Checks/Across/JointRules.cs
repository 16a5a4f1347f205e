using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Across;

/// <summary>What a connector holds.</summary>
internal static class JointRules
{
    public static void Check(HeldConductor held, CheckRun run)
    {
        if (held.CableId is null == held.FittingId is null)
        {
            run.Invalid(
                "",
                "A held conductor names both a cable and a fitting, or neither.",
                "Name the cable for a cable's core, the fitting for a fitting's lead.");
        }
    }
}
