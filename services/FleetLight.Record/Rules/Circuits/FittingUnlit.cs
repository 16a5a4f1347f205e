using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A dark fitting: reversed, broken, bridged or not connected.</summary>
public static class FittingUnlit
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "fitting-unlit",
        "Fitting did not light",
        AlertSeverity.Serious,
        "A fitting was seen not to light when the circuit was last energised, and no repair was made since.",
        "Isolate, prove dead, look for a reversed or broken fitting or joint; then energise again and record it.",
        Rule.CommonPractice);

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.LastEnergised is not { } energised || circuit.LastRepair?.At > energised.At) return;
        foreach (var fitting in (energised.Data.UnlitFittingIds ?? []).Distinct(StringComparer.Ordinal))
            found.Add(Rule.On(
                circuit.Subject,
                $"Fitting {fitting} did not light when the circuit was energised.",
                [circuit.Subject.Id],
                [energised.Key],
                fitting));
    }
}
