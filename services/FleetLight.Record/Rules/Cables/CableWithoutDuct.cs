using FleetLight.Contracts.Views;
using FleetLight.Record.Cables;

namespace FleetLight.Record.Rules.Cables;

/// <summary>A cable of which nobody knows where it lies and what protects it.</summary>
public static class CableWithoutDuct
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "cable-without-duct",
        "Cable pulled with no duct recorded",
        AlertSeverity.Notice,
        "A cable was recorded as pulled and no duct was named.",
        "Name the ducts it passes by replacing the fact, or confirm in the handover that it lies protected otherwise.",
        "BS 7671 522.8.10: a buried cable has an earthed sheath or armour, or lies in a duct of equivalent protection");

    /// <summary>Adds what it finds on the cable.</summary>
    public static void Find(CableState cable, ICollection<Finding> found)
    {
        if (cable.Pull is not { Data.DuctIds.Length: 0 } pull) return;
        found.Add(Rule.On(
            cable.Subject, "No duct is recorded for the cable.", cable.CircuitIds, [pull.Key]));
    }
}
