using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;

namespace FleetLight.Record.Checks.Across;

/// <summary>What calculations are asked about. What is wrong with a circuit as a whole, the calculation itself says.</summary>
internal static class CalculationRules
{
    public static void Check(DriverInput driver, CheckRun run) =>
        DesignRules.CheckWindow(driver.LeastVolts, driver.MostVolts, run);

    public static void Check(RunInput given, CheckRun run) => DesignRules.CheckEnds(given.From, given.To, run);

    public static void Check(StretchInput stretch, CheckRun run)
    {
        if (stretch.BendDegrees > 0 && stretch.BendRadiusMetres is null)
            run.Invalid("bendRadiusMetres", "A bend has no radius.", "Give its radius in m, or leave the bend out.");
    }

    public static void Check(ExpectedRequest request, CheckRun run)
    {
        if (request.Simulation is not null && request.Method != UncertaintyMethod.MonteCarlo)
            run.Invalid("simulation", "It is said how to simulate and not to simulate.", "Ask for the method monte-carlo.");
    }

    public static void Check(DriftRequest request, CheckRun run)
    {
        if (request.Quantity == MeasuredAs.FittingLit)
            run.Invalid("quantity", "Whether a fitting is lit does not drift.", "Ask about volts, milliamps, ohms or megohms.");
    }
}
