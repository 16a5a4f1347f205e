using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A circuit that is not extra-low voltage any more. The open output sets the class, not the running voltage.</summary>
public static class ExtraLowVoltageExceeded
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "extra-low-voltage-exceeded",
        "Extra-low-voltage limit exceeded",
        AlertSeverity.Serious,
        "The driver's open output, or what the circuit should read at the driver, lies above 120 V DC.",
        "Use a driver within extra-low voltage, or treat the circuit as low voltage by the local code; a licensed person decides.",
        "IEC 61140 and IEC 60364-4-41 (414): extra-low voltage up to 120 V ripple-free DC");

    /// <summary>Upper limit of extra-low voltage, V, ripple-free DC.</summary>
    public const double MostVolts = 120;

    /// <summary>The greatest voltage that the circuit can show, V DC; none where it is not known.</summary>
    public static double? GreatestVolts(CircuitState circuit)
    {
        double?[] volts =
        [
            circuit.Driver?.OpenCircuitVolts, circuit.Driver?.RatedVolts, circuit.Expected?.DriverVoltsDc.Best,
        ];
        return volts.Max();
    }

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (GreatestVolts(circuit) is not { } volts || volts <= MostVolts || circuit.DriverEvidence is not { } fact) return;
        found.Add(Rule.On(
            circuit.Subject,
            $"The output can show {Words.Of(Math.Round(volts, 1), "V")} DC; extra-low voltage ends at {Words.Of(MostVolts, "V")}.",
            [circuit.Subject.Id],
            [fact]));
    }
}
