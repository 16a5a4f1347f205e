using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Faults of the driver and its connection.</summary>
internal static class DriverFaults
{
    // A driver that folds back or is dimmed gives some share of its rating.
    private const double LeastShare = 0.1;
    private const double MostShare = 0.95;

    // Of drivers at their limit, how many are overloaded by something that is not recorded and not weak themselves.
    private const double ShareOverloaded = 0.5;

    public static IEnumerable<FaultDefinition> All =>
    [
        new(FaultKind.WrongDriverOutput, "A driver of another output", 0.008)
        {
            AlsoShows = "All fittings are brighter or dimmer alike; too much may destroy them.",
            WhatToDo = "Read the driver's label and its output setting; measure its output as loaded.",
            Cases = WrongOutput,
            Says = f => f.IsSeries
                ? $"The driver gives {f.FigureText} mA where {Design(f.Model.Driver.RatedMilliamps)} mA was designed."
                : $"The driver gives {f.FigureText} V where {Design(f.Model.Driver.RatedVolts)} V was designed.",
        },
        new(FaultKind.DriverAtLimit, "Driver at its limit", 0.006)
        {
            AlsoShows = "All fittings are dimmer alike or flicker; the driver is hot or goes off and on.",
            WhatToDo = "Compare the load with the driver's label; take fittings off or fit a larger driver. Let a hot driver "
                + "cool and see whether its output returns.",
            Cases = AtLimit,
            Says = f => f.Case.Variant == "overloaded"
                ? $"The driver is at the limit of its rating: it is loaded by {f.FigureText} W more than recorded."
                : f.IsSeries
                    ? $"The driver no longer regulates: it gives {f.FigureText} mA, at a limit, too hot or dimmed."
                    : $"The driver no longer regulates: it gives {f.FigureText} V, at a limit, too hot or dimmed.",
        },
        new(FaultKind.DriverNoOutput, "Driver dead", 0.006)
        {
            AlsoShows = "Everything is dark and there are no volts anywhere.",
            WhatToDo = "Have the supply to the driver checked by a licensed person; then measure the output with the load "
                + "off. " + Caution.Licensed,
            Cases = _ => [new(1) { Changes = [new DriverDead()] }],
            Says = _ => "The driver gives nothing: not fed, tripped or failed.",
        },
        new(FaultKind.SupplyReversed, "Supply polarity reversed", 0.004)
        {
            AlsoShows = "Everything is dark; the meter shows volts of the wrong sign at the cable's cores.",
            WhatToDo = Caution.Isolate + "Then check plus and minus at the driver's output against the cores' marks. "
                + "Fittings that were fed the wrong way round may be destroyed.",
            Cases = _ => [new(1) { Changes = [new SupplyReversed()] }],
            Says = _ => "Plus and minus are exchanged at the driver's output.",
        },
    ];

    private static IEnumerable<FaultCase> WrongOutput(FaultScope scope)
    {
        var series = scope.Model.Drive == DriveKind.ConstantCurrent;
        var rated = series ? scope.Model.Driver.RatedMilliamps : scope.Model.Driver.RatedVolts;
        var others = series
            ? scope.Options.DriverMilliamps.OrEmpty().Where(ma => ma is >= 1 and <= 100_000)
            : scope.Options.DriverVoltsDc.OrEmpty().Where(v => v is >= 0.1 and <= 1500);
        return others.Where(value => value != rated).Distinct().Take(DiagnosisOptions.MostDrivers)
            .Select(value => new FaultCase(1)
            {
                Figure = value,
                Meaning = FigureMeaning.DriverOutput,
                Changes = [new DriverGives(value)],
            });
    }

    private static IEnumerable<FaultCase> AtLimit(FaultScope scope)
    {
        var driver = scope.Model.Driver;
        var series = scope.Model.Drive == DriveKind.ConstantCurrent;
        var rated = (series ? driver.RatedMilliamps : driver.RatedVolts).GetValueOrDefault();
        yield return new FaultCase(1 - ShareOverloaded)
        {
            Variant = "weak",
            Meaning = FigureMeaning.DriverOutput,
            Free = new FreeFigure(LeastShare * rated, MostShare * rated, false, value => [new DriverGives(value)]),
        };
        // Overload shows only where a limit is known.
        double load = 0;
        foreach (var fitting in scope.Model.Fittings) load += fitting.RatedWatts;
        var limit = Limit(driver, series);
        if (!double.IsFinite(limit)) yield break;
        yield return new FaultCase(ShareOverloaded)
        {
            Variant = "overloaded",
            Meaning = FigureMeaning.Watts,
            Free = new FreeFigure(
                Math.Max(0.05 * load, limit - load), Math.Max(load, 3 * limit), false,
                watts => [new FittingAdded(null, watts)]),
        };
    }

    private static double Limit(DriverModel driver, bool series)
    {
        var perVolt = series ? driver.RatedMilliamps / 1000 * driver.MostVolts : driver.RatedVolts * driver.MostAmps;
        return Math.Min(perVolt ?? double.PositiveInfinity, driver.MostWatts ?? double.PositiveInfinity);
    }

    private static string Design(double? figure) => Plain.Figure(figure ?? 0);
}
