using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A handover whose papers will not hold what the owner needs.</summary>
public static class HandedOverIncomplete
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "handed-over-incomplete",
        "Handed over with gaps in the record",
        AlertSeverity.Notice,
        "The circuit was handed over and something that must have been done before is not recorded.",
        "Record what is missing.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.HandedOver is not { } handover || circuit.Gaps.Count == 0) return;
        found.Add(Rule.On(
            circuit.Subject,
            $"Handed over, and not recorded: {string.Join(" ", circuit.Gaps)}",
            [circuit.Subject.Id],
            [handover.Key]));
    }
}
