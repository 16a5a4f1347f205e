using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Works;

namespace FleetLight.Record.Checks.Across;

/// <summary>Designs of circuits.</summary>
internal static class DesignRules
{
    public static void Check(DriverDesign driver, CheckRun run) => CheckWindow(driver.LeastVolts, driver.MostVolts, run);

    public static void Check(RunDesign design, CheckRun run) => CheckEnds(design.From, design.To, run);

    /// <summary>The window in which a driver regulates.</summary>
    public static void CheckWindow(double? leastVolts, double? mostVolts, CheckRun run)
    {
        if (leastVolts > mostVolts)
            run.Invalid(
                "leastVolts",
                "leastVolts is above mostVolts.",
                "Give the range in which the driver regulates, in V, the smaller first.");
    }

    /// <summary>The two places that a run connects.</summary>
    public static void CheckEnds(string from, string to, CheckRun run)
    {
        if (from == to)
            run.Invalid("to", "A run ends where it starts.", "Name the two places that the run connects.");
    }

    public static void Check(CircuitDesigned design, CheckRun run)
    {
        if (design.Drive == DriveKind.ConstantCurrent && design.Driver.RatedMilliamps is null)
            run.Invalid(
                "driver.ratedMilliamps",
                "ratedMilliamps is missing on the driver of a constant-current circuit.",
                "Give its rated output current in mA.");
        if (design.Drive == DriveKind.ConstantVoltage && design.Driver.RatedVolts is null)
            run.Invalid(
                "driver.ratedVolts",
                "ratedVolts is missing on the driver of a constant-voltage circuit.",
                "Give its rated output voltage in V.");
        Repeats.Check(
            design.Fittings,
            fitting => fitting.FittingId,
            "fittings",
            "fittingId",
            "Give each fitting its own id.",
            run);
        Repeats.Check(design.Runs, one => one.RunId, "runs", "runId", "Give each run its own id.", run);
        for (var i = 0; i < design.Fittings.Length; i++)
        {
            if (design.Fittings[i].FittingId != Routing.DriverEnd) continue;
            run.Invalid(
                $"fittings[{i}].fittingId",
                $"A fitting is called {Routing.DriverEnd}.",
                $"Call it otherwise: {Routing.DriverEnd} means the driver.");
        }
    }
}
