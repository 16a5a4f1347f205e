using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A circuit connected the wrong way round.</summary>
public static class PolarityTestFailed
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "polarity-test-failed",
        "Polarity found wrong",
        AlertSeverity.Serious,
        "The newest test of polarity found it wrong.",
        "Put the polarity right, test again and record it; a licensed person decides.",
        "IEC 60364-6");

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found) =>
        FailedTests.Find(Rule, TestKind.Polarity, circuit, found);
}
