using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A fault that somebody waits to have mended.</summary>
public static class FaultOpen
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "fault-open",
        "Fault reported and not mended",
        AlertSeverity.Warning,
        "A fault was reported and no repair names it since.",
        "Mend it and record the repair with the fault's id.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        foreach (var fault in circuit.OpenFaults)
            found.Add(Rule.On(
                circuit.Subject,
                $"Fault {fault.Data.FaultId}: {fault.Data.What}",
                [circuit.Subject.Id],
                [fault.Key],
                fault.Data.FaultId));
    }
}
