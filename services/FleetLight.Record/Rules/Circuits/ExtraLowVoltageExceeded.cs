using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>
/// A circuit that is not extra-low voltage any more. The open output sets the class, not the running voltage.
/// </summary>
public static class ExtraLowVoltageExceeded
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "extra-low-voltage-exceeded",
        "Extra-low-voltage limit exceeded",
        AlertSeverity.Serious,
        "The driver's open output, or what the circuit should read at the driver, lies above 120 V DC.",
        "Use a driver within extra-low voltage, or treat the circuit as low voltage by the local code; a "
            + "licensed person decides.",
        "IEC 61140 and IEC 60364-4-41 (414): extra-low voltage up to 120 V ripple-free DC");

    /// <summary>
    /// The voltage that the circuit is known to show, V DC: that of the open output, the rated one, or what it should
    /// read.
    /// </summary>
    public static double? KnownVolts(CircuitState circuit)
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
        // An open loop shows at least what the driver regulates up to, where its open output is not recorded.
        var greatest = KnownVolts(circuit) ?? 0;
        if (circuit.Driver is { OpenCircuitVolts: null, MostVolts: { } most }) greatest = Math.Max(greatest, most);
        if (greatest <= ExtraLowVoltage.MostVoltsDc || circuit.DriverEvidence is not { } fact) return;
        found.Add(Rule.On(
            circuit.Subject,
            $"The output can show {Words.Of(Math.Round(greatest, 1), "V")} DC; extra-low voltage ends at "
                + $"{Words.Of(ExtraLowVoltage.MostVoltsDc, "V")}.",
            [circuit.Subject.Id],
            [fact]));
    }
}
