using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A circuit that cannot work as it is recorded.</summary>
public static class DesignCannotWork
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "design-cannot-work",
        "Circuit cannot work as recorded",
        AlertSeverity.Serious,
        "By the record the voltage collapses under the load, or a fitting is not connected to the driver.",
        "Change the design, or correct the record.",
        "Kirchhoff's laws: no voltage exists at which the cable carries the power");

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.Design is not { } design) return;
        if (circuit.Refusal is not { } refusal) return;
        if (refusal.Reason is not (RefusalReason.VoltageCollapse or RefusalReason.NotConnected)) return;
        found.Add(Rule.On(circuit.Subject, refusal.Text, [circuit.Subject.Id], [design.Key], modelVersion: Electrics.Expected.ModelVersion));
    }
}
