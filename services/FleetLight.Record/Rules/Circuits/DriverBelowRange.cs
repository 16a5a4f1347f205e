using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A driver that cannot regulate so low: the fittings flicker or get another current.</summary>
public static class DriverBelowRange
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "driver-below-range",
        "Driver below its range",
        AlertSeverity.Warning,
        "The fittings need less voltage than the driver regulates down to.",
        "Use a driver that regulates lower, add fittings, or correct the record.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.DriverEvidence is not { } fact) return;
        var says = circuit.Refusal is { Reason: RefusalReason.BelowDriver } refusal
            ? refusal.Text
            : circuit.Expected?.Notes.FirstOrDefault(note => note.Code == NoteCode.DriverNearLeastVolts)?.Text;
        if (says is null) return;
        found.Add(Rule.On(circuit.Subject, says, [circuit.Subject.Id], [fact], modelVersion: Electrics.Expected.ModelVersion));
    }
}
