using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;

namespace FleetLight.Record.Rules.Circuits;

/// <summary>A fitting of another wattage than designed. What the circuit should read follows the plate.</summary>
public static class FittingNotAsDesigned
{
    /// <summary>What the rule is.</summary>
    public static Rule Rule { get; } = new(
        "fitting-not-as-designed",
        "Fitting of another wattage than designed",
        AlertSeverity.Warning,
        "The plate of a fixed fitting states another power than the design, by more than its tolerance.",
        "Fix the fitting designed, or record the design as changed.",
        Rule.CommonPractice);

    // Where the design states no tolerance, the contract says 5 %.
    private const double DefaultTolerancePercent = 5;

    /// <summary>Adds what it finds on the circuit.</summary>
    public static void Find(CircuitState circuit, ICollection<Finding> found)
    {
        if (circuit.Design is not { } design) return;
        foreach (var fitting in design.Data.Fittings)
        {
            if (!circuit.Fixed.TryGetValue(fitting.FittingId, out var known)) continue;
            if (known.Data.RatedWatts is not { } watts) continue;
            var allowed = fitting.RatedWatts * (fitting.TolerancePercent ?? DefaultTolerancePercent) / 100;
            if (Math.Abs(watts - fitting.RatedWatts) <= allowed) continue;
            found.Add(Rule.On(
                circuit.Subject,
                $"Fitting {fitting.FittingId} is of {Words.Of(watts, "W")}; the design says "
                    + $"{Words.Of(fitting.RatedWatts, "W")}.",
                [circuit.Subject.Id],
                [design.Key, known.Key],
                fitting.FittingId));
        }
    }
}
