using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A driver that will drop out or die early, or that already gives less than the fittings need.</summary>
public static class DriverAtLimit
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "driver-at-limit",
        "Driver at its limit",
        AlertSeverity.Warning,
        "The circuit needs 90 % or more of what its driver can give, or reads so at the driver.",
        "Use a driver with more room, take fittings off, or correct the record.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.DriverEvidence is not { } fact) return;
        var says = circuit.Refusal is { Reason: RefusalReason.BeyondDriver } refusal
            ? refusal.Text
            : circuit.Expected?.Notes.FirstOrDefault(note => note.Code == NoteCode.DriverNearLimit)?.Text;
        if (says is null) return;
        var finding = Rule.On(circuit.Subject, says, [circuit.Subject.Id], [fact], modelVersion: Electrics.Expected.ModelVersion);
        found.Add(circuit.Refusal is null ? finding : finding with { Severity = AlertSeverity.Serious });
    }
}
