using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Finds the first thing in a model that stands in the way of an answer.</summary>
internal static class CircuitCheck
{
    // Ratings below this are slips of the pen, and quotients by them would leave the range of numbers.
    private const double LeastRating = 0.001;

    public static CannotExpect? FirstObstacle(CircuitModel? model, Assumptions assumptions)
    {
        if (model is null) return new CannotExpect(RefusalReason.OutOfRange, "No circuit was given.", "circuit");
        return AssumptionsObstacle(assumptions)
            ?? DriverObstacle(model)
            ?? FittingsObstacle(model.Fittings)
            ?? RunsObstacle(model.Runs);
    }

    /// <summary>The array, or an empty one where none was set.</summary>
    public static ImmutableArray<T> OrEmpty<T>(this ImmutableArray<T> array) => array.IsDefault ? [] : array;

    /// <summary>Whether a fitting can have this wattage.</summary>
    public static bool IsWattage(double watts) => watts is >= LeastRating and <= 10_000;

    private static CannotExpect? DriverObstacle(CircuitModel model)
    {
        var driver = model.Driver;
        if (driver is null) return Missing("The driver is not recorded.", "driver");
        var fault = Optional(driver.RatedMilliamps, 1, 100_000, "driver.ratedMilliamps")
            ?? Optional(driver.RatedVolts, LeastRating, 1500, "driver.ratedVolts")
            ?? Optional(driver.LeastVolts, LeastRating, 1500, "driver.leastVolts")
            ?? Optional(driver.MostVolts, LeastRating, 1500, "driver.mostVolts")
            ?? Optional(driver.MostWatts, LeastRating, 1_000_000, "driver.mostWatts")
            ?? Optional(driver.MostAmps, LeastRating, 10_000, "driver.mostAmps")
            ?? Optional(driver.OpenCircuitVolts, LeastRating, 1500, "driver.openCircuitVolts")
            ?? Percent(driver.OutputTolerancePercent, "driver.outputTolerancePercent");
        if (fault is not null) return fault;
        return model.Drive switch
        {
            DriveKind.ConstantCurrent when driver.RatedMilliamps is null =>
                Missing("The driver's output current is not recorded.", "driver.ratedMilliamps"),
            DriveKind.ConstantVoltage when driver.RatedVolts is null =>
                Missing("The driver's output voltage is not recorded.", "driver.ratedVolts"),
            DriveKind.ConstantCurrent or DriveKind.ConstantVoltage => null,
            _ => new CannotExpect(RefusalReason.OutOfRange, "The kind of drive is unknown.", "drive"),
        };
    }

    private static CannotExpect? FittingsObstacle(ImmutableArray<FittingModel> fittings)
    {
        if (fittings.IsDefaultOrEmpty)
            return new CannotExpect(RefusalReason.NoFittings, "The circuit has no fitting.", "fittings");
        var seen = new HashSet<string>(fittings.Length, StringComparer.Ordinal);
        for (var i = 0; i < fittings.Length; i++)
        {
            var fitting = fittings[i];
            if (fitting is null || !IsFreeId(fitting.Id, seen)) return BadId($"fittings[{i}].id");
            if (!IsWattage(fitting.RatedWatts)) return Range($"fittings[{i}].ratedWatts", "0.001 to 10000 W");
            if (!(fitting.TolerancePercent is >= 0 and < 100))
                return Range($"fittings[{i}].tolerancePercent", "0 to below 100 %");
            if (fitting.LeastVolts is { } least && !(least is >= LeastRating and <= 1500))
                return Range($"fittings[{i}].leastVolts", "0.001 to 1500 V");
            if (fitting.StatedMilliamps is { } stated && !(stated is >= 1 and <= 100_000))
                return Range($"fittings[{i}].statedMilliamps", "1 to 100000 mA");
            if (fitting.Tail is { } tail && TailObstacle(tail, $"fittings[{i}].tail") is { } obstacle) return obstacle;
        }

        return null;
    }

    private static CannotExpect? TailObstacle(TailModel tail, string field)
    {
        if (!(tail.LengthMetres is >= 0 and <= 1000)) return Range($"{field}.lengthMetres", "0 to 1000 m");
        return ConductorResistance.TryOhmsPerKilometreAt20(tail.ConductorClass, tail.AreaSquareMillimetres, out _)
            ? null
            : NonStandard($"{field}.areaSquareMillimetres");
    }

    private static CannotExpect? RunsObstacle(ImmutableArray<RunModel> runs)
    {
        if (runs.IsDefaultOrEmpty) return null;
        var seen = new HashSet<string>(runs.Length, StringComparer.Ordinal);
        for (var i = 0; i < runs.Length; i++)
        {
            var run = runs[i];
            if (run is null || !IsFreeId(run.Id, seen)) return BadId($"runs[{i}].id");
            if (string.IsNullOrEmpty(run.From)) return BadId($"runs[{i}].from");
            if (string.IsNullOrEmpty(run.To)) return BadId($"runs[{i}].to");
            if (!(run.LengthMetres is >= 0 and <= 100_000)) return Range($"runs[{i}].lengthMetres", "0 to 100000 m");
            if (!(run.LengthTolerancePercent is >= 0 and < 100))
                return Range($"runs[{i}].lengthTolerancePercent", "0 to below 100 %");
            if (run.ConductorCelsius is { } celsius && !(celsius is >= -60 and <= 150))
                return Range($"runs[{i}].conductorCelsius", "-60 to 150 °C");
            if (run.ConductorsInLoop is not (1 or 2)) return Range($"runs[{i}].conductorsInLoop", "1 or 2");
            if (!(run.JointOhms is >= 0 and <= 1000)) return Range($"runs[{i}].jointOhms", "0 to 1000 Ω");
            if (!ConductorResistance.TryOhmsPerKilometreAt20(run.ConductorClass, run.AreaSquareMillimetres, out _))
                return NonStandard($"runs[{i}].areaSquareMillimetres");
        }

        return null;
    }

    private static CannotExpect? AssumptionsObstacle(Assumptions assumptions)
    {
        if (!Sane(assumptions.Buried)) return Range("assumptions.buried", "-60 to 150 °C, 0 to 100 K");
        if (!Sane(assumptions.InAir)) return Range("assumptions.inAir", "-60 to 150 °C, 0 to 100 K");
        if (!Sane(assumptions.WarmBox)) return Range("assumptions.warmBox", "-60 to 150 °C, 0 to 100 K");
        if (!(assumptions.StatedTemperatureStandardUncertaintyKelvin is >= 0 and <= 100))
            return Range("assumptions.statedTemperatureStandardUncertaintyKelvin", "0 to 100 K");
        if (!(assumptions.ConductorBelowMaximumPercent is >= 0 and < 50))
            return Range("assumptions.conductorBelowMaximumPercent", "0 to below 50 %");
        if (!(assumptions.FittingTemperatureStandardUncertaintyKelvin is >= 0 and <= 100))
            return Range("assumptions.fittingTemperatureStandardUncertaintyKelvin", "0 to 100 K");
        if (!(Math.Abs(assumptions.ForwardVoltsPerKelvinPerVolt) <= 0.1))
            return Range("assumptions.forwardVoltsPerKelvinPerVolt", "-0.1 to 0.1 per K");
        return assumptions.Led is { LogarithmicShare: >= 0 and <= 1, ResistiveShare: >= 0 and <= 1 }
            ? null
            : Range("assumptions.led", "shares of 0 to 1");
    }

    private static bool Sane(AssumedTemperature t) =>
        t is { Celsius: >= -60 and <= 150, StandardUncertaintyKelvin: >= 0 and <= 100 };

    private static bool IsFreeId(string? id, HashSet<string> seen) =>
        !string.IsNullOrEmpty(id) && id != CircuitModel.DriverNode && seen.Add(id);

    private static CannotExpect? Optional(double? value, double least, double most, string field) =>
        value is null || (value >= least && value <= most)
            ? null
            : Range(field, $"{Plain.Figure(least)} to {Plain.Figure(most)}");

    private static CannotExpect? Percent(double value, string field) =>
        value is >= 0 and < 100 ? null : Range(field, "0 to below 100 %");

    private static CannotExpect Range(string field, string range) =>
        new(RefusalReason.OutOfRange, $"The value is outside its range, which is {range}.", field);

    private static CannotExpect BadId(string field) =>
        new(RefusalReason.BadId, "An id is missing, used twice, or is the word \"driver\".", field);

    private static CannotExpect NonStandard(string field) => new(
        RefusalReason.NonStandardArea,
        "The conductor area is not one of IEC 60228 from 0.5 to 16 mm²; nothing is interpolated.",
        field);

    private static CannotExpect Missing(string text, string field) =>
        new(RefusalReason.DriverRatingMissing, text, field);
}
