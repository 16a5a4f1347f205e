using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Across;

/// <summary>Cables and their cores.</summary>
internal static class CableRules
{
    public static void Check(CoreAssignment core, CheckRun run)
    {
        if (core.Use == CoreUse.Circuit && core.CircuitId is null)
            run.Invalid(
                "circuitId",
                "circuitId is missing on a core that carries a circuit.",
                "Name the circuit, or call the core spare.");
        if (core.Use == CoreUse.Spare && core.CircuitId is not null)
            run.Invalid("circuitId", "A spare core names a circuit.", "Leave circuitId out, or give the use circuit.");
    }

    public static void Check(CablePulled cable, CheckRun run)
    {
        Repeats.Check(cable.Cores, core => core.Core, "cores", "core", "Name each core once.", run);
        Repeats.Check(
            cable.DuctIds,
            duct => duct,
            "ductIds",
            "",
            "Name each duct once, in order from the supply.",
            run);
    }
}
