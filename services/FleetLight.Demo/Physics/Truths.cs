using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Physics;

/// <summary>Draws what truly stands in the garden for a design.</summary>
internal static class Truths
{
    /// <summary>The circuit as built, a little off everywhere, always within what the design allows.</summary>
    /// <param name="design">The design.</param>
    /// <param name="pulledMetres">Length of cable pulled for each run, m.</param>
    /// <param name="chance">Where the deviations come from.</param>
    public static TrueCircuit Draw(CircuitDesigned design, IReadOnlyDictionary<string, double> pulledMetres, Chance chance) => new()
    {
        Drive = design.Drive,
        RatedOutput = design.Drive == DriveKind.ConstantCurrent
            ? design.Driver.RatedMilliamps!.Value / 1000
            : design.Driver.RatedVolts!.Value,
        OutputFactor = 1 + (design.Drive == DriveKind.ConstantCurrent ? chance.Spread(0.018, 0.045) : chance.Spread(0.01, 0.025)),
        MostVolts = design.Driver.MostVolts ?? double.PositiveInfinity,
        OpenVolts = (design.Driver.OpenCircuitVolts ?? 0) * chance.Between(0.975, 0.995),
        Fittings = [.. design.Fittings.Select(fitting => new TrueFitting(fitting.FittingId, fitting.RatedWatts * (1 + chance.Spread(0.024, 0.048))))],
        Runs = [.. design.Runs.Select(run => Run(run, pulledMetres[run.RunId], chance))],
    };

    private static TrueRun Run(RunDesign run, double pulledMetres, Chance chance)
    {
        // Makers meet the greatest resistance of the standard with up to 7 % in hand.
        var ohmsAMetre = Copper.MostOhmsPerKilometre(run.AreaSquareMillimetres, run.ConductorClass) / 1000 * (1 - chance.Between(0, 0.07));
        var metres = pulledMetres * (1 + chance.Spread(0.012, 0.035));
        var contacts = 4 * chance.Between(0.002, 0.008);
        return new TrueRun(run.From, run.To, ohmsAMetre * metres * (run.ConductorsInLoop ?? 2), contacts);
    }
}
