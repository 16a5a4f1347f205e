using FleetLight.Contracts.Views;
using FleetLight.Electrics;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A circuit whose bare parts must not be touched in the wet, though it is extra-low voltage.</summary>
public static class TouchLimitExceeded
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "touch-limit-exceeded",
        "Above the touch limit in wet places",
        AlertSeverity.Notice,
        "The circuit can show more than 30 V DC: outdoors its live parts must not be touchable.",
        "See that every live part is insulated or enclosed, and take note of it; a driver of lower open output "
            + "clears it.",
        "IEC 60364-4-41 414.4.5: basic protection may be left out up to 30 V DC in other than dry places, 60 V "
            + "DC in dry ones");

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.DriverEvidence is not { } fact) return;
        if (ExtraLowVoltageExceeded.KnownVolts(circuit) is not { } volts) return;
        if (volts is <= ExtraLowVoltage.BareWetVoltsDc or > ExtraLowVoltage.MostVoltsDc) return;
        found.Add(Rule.On(
            circuit.Subject,
            $"The output can show {Words.Of(Math.Round(volts, 1), "V")} DC; above "
                + $"{Words.Of(ExtraLowVoltage.BareWetVoltsDc, "V")} live parts outdoors need basic protection.",
            [circuit.Subject.Id],
            [fact]));
    }
}
