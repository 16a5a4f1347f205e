using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A protective device that does not protect in time.</summary>
public static class TripTimeOutside
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "trip-time-outside",
        "Residual current device trips outside its time",
        AlertSeverity.Serious,
        "The newest test of a residual current device gave a trip time outside that of its type.",
        "Replace the device, test again and record it; a licensed person decides.",
        "IEC 61008 and IEC 61009");

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found) =>
        FailedTests.Find(Rule, TestKind.ResidualCurrentDevice, circuit, found);
}
