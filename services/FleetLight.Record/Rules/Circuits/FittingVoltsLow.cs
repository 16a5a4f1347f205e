using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

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
        if (circuit.Design is not { } design) return;
        if (circuit.Expected is not { Drive: DriveKind.ConstantVoltage } reads) return;
        foreach (var fitting in design.Data.Fittings)
        {
            if (fitting.LeastVolts is not { } least) continue;
            var gets = reads.Fittings.FirstOrDefault(one => one.FittingId == fitting.FittingId)?.VoltsDc.Best;
            if (gets is not { } volts || volts >= least) continue;
            found.Add(Rule.On(
                circuit.Subject,
                $"Fitting {fitting.FittingId} gets about {Words.Of(Math.Round(volts, 2), "V")}; it works from "
                    + $"{Words.Of(least, "V")} up.",
                [circuit.Subject.Id],
                [design.Key],
                fitting.FittingId));
        }
    }
}
