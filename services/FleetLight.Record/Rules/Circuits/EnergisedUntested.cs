using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A mains side that was energised blind.</summary>
public static class EnergisedUntested
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "energised-untested",
        "Energised without a test of its insulation",
        AlertSeverity.Warning,
        "A circuit with a mains side was energised and no test of insulation resistance on it is recorded.",
        "Isolate, prove dead, test and record it; a licensed person decides.",
        "IEC 60364-6 (6.4.3): dead tests come before the installation is energised");

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.Design is not { Data.MainsSide: true } || circuit.FirstEnergised is not { } energised) return;
        if (circuit.FirstInsulationTest is not null) return;
        found.Add(Rule.On(
            circuit.Subject,
            "Energised, and no test of insulation resistance on the mains side is recorded.",
            [circuit.Subject.Id],
            [energised.Key]));
    }
}
