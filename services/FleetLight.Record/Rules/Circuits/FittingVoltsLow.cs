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
            // Below its least voltage a fitting goes dark, takes nothing, and may then see more volts again.
            if (reads.Fittings.FirstOrDefault(one => one.FittingId == fitting.FittingId) is not { Watts: <= 0 } dark)
                continue;
            var volts = Words.Of(Math.Round(dark.VoltsDc.Best, 2), "V");
            found.Add(Rule.On(
                circuit.Subject,
                dark.VoltsDc.Best >= least
                    ? $"Fitting {fitting.FittingId} works from {Words.Of(least, "V")} up; lit, it gets less and goes dark, "
                        + $"then it gets {volts} and may start again and again."
                    : $"Fitting {fitting.FittingId} gets about {volts}; it works from {Words.Of(least, "V")} up.",
                [circuit.Subject.Id],
                [design.Key],
                fitting.FittingId,
                Electrics.Expected.ModelVersion));
        }
    }
}
