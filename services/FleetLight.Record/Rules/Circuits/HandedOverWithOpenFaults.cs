using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A circuit given to its owner with a known fault.</summary>
public static class HandedOverWithOpenFaults
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "handed-over-with-open-faults",
        "Handed over with open faults",
        AlertSeverity.Warning,
        "The circuit was handed over while a fault reported before was not mended.",
        "Mend the faults and record the repair with their ids.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.HandedOver is not { } handover) return;
        var open = circuit.OpenFaults.Where(fault => fault.At <= handover.At).ToList();
        if (open.Count == 0) return;
        found.Add(Rule.On(
            circuit.Subject,
            $"Handed over with open fault{(open.Count == 1 ? "" : "s")} "
                + $"{string.Join(", ", open.Select(fault => fault.Data.FaultId))}.",
            [circuit.Subject.Id],
            [handover.Key, .. open.Select(fault => fault.Key)]));
    }
}
