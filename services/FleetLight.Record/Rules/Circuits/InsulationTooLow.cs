using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>Insulation that leaks: water in a joint, a nick in a cable, a wet fitting.</summary>
public static class InsulationTooLow
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "insulation-too-low",
        "Insulation resistance too low",
        AlertSeverity.Serious,
        "The newest test of insulation resistance lies under the least value for the nominal voltage.",
        "Find and mend the insulation fault, test again and record it; a licensed person decides.",
        "IEC 60364-6 Table 6A (6.1)");

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found) =>
        FailedTests.Find(Rule, TestKind.InsulationResistance, circuit, found);
}
