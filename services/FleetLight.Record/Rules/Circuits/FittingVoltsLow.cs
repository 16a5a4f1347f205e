using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A fitting at the end of too long or too thin a cable.</summary>
public static class FittingVoltsLow
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "fitting-volts-low",
        "Fitting gets too little voltage",
        AlertSeverity.Warning,
        "By the record a fitting gets less than the least voltage at which it works.",
        "Use a larger conductor, a shorter run or a higher driver voltage, or correct the record.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.Expected is not { } reads || circuit.Design is not { } design) return;
        foreach (var note in reads.Notes)
            if (note.Code == NoteCode.FittingBelowLeastVolts)
                found.Add(Rule.On(circuit.Subject, note.Text, [circuit.Subject.Id], [design.Key], note.Field));
    }
}
