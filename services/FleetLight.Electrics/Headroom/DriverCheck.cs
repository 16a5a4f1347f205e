using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Holds what a circuit asks of its driver against the driver's limits.</summary>
internal static class DriverCheck
{
    private const string Source = "the driver's record";

    // Rounding of the last digits must not refuse what stands exactly at its limit.
    private const double Rounding = 1e-9;

    /// <summary>Adds the reasons that the driver gives.</summary>
    /// <param name="reasons">Receives them.</param>
    /// <param name="model">The circuit.</param>
    /// <param name="options">The margin.</param>
    /// <param name="readings">What the circuit asks of the driver.</param>
    /// <param name="bare">
    /// The same with cables of no length. Cable must not be what keeps a driver within its window: a loop that reaches
    /// the least volts, or resistive fittings that stay below the greatest amps, only by the drop in the cable would
    /// leave it on a warm or a cold day. So a longer cable never turns a no into a yes.
    /// </param>
    /// <param name="needed">The limits that a driver must have; null where this one suffices.</param>
    public static void Add(
        ImmutableArray<HeadroomReason>.Builder reasons, CircuitModel model, HeadroomOptions options,
        ExpectedReadings readings, ExpectedReadings? bare, out DriverNeeded? needed)
    {
        var driver = model.Driver;
        double? volts = null, amps = null, least = null;
        if (model.Drive == DriveKind.ConstantCurrent)
        {
            volts = Most(
                reasons, HeadroomLimit.DriverMostVolts, readings.DriverVoltsDc.High95, driver.MostVolts, "V", options);
            least = Least(reasons, driver.LeastVolts, bare?.DriverVoltsDc);
            if (driver.MostVolts is null) Unknown(reasons, "greatest volts");
        }
        else
        {
            var high = Math.Max(readings.DriverMilliamps.High95, bare?.DriverMilliamps.High95 ?? 0) / 1000;
            amps = Most(reasons, HeadroomLimit.DriverMostAmps, high, driver.MostAmps, "A", options);
            if (driver.MostAmps is null && driver.MostWatts is null) Unknown(reasons, "greatest amps or watts");
        }

        var power = Math.Max(readings.DriverWatts.High95, bare?.DriverWatts.High95 ?? 0);
        var watts = Most(reasons, HeadroomLimit.DriverMostWatts, power, driver.MostWatts, "W", options);
        needed = volts is null && watts is null && amps is null && least is null
            ? null
            : new DriverNeeded(volts, watts, amps, least);
    }

    // What the driver must give at least, margin included, where it gives less than that.
    private static double? Most(
        ImmutableArray<HeadroomReason>.Builder reasons, HeadroomLimit limit, double high, double? most, string unit,
        HeadroomOptions options)
    {
        if (most is not { } given) return null;
        var free = 1 - (options.MarginPercent / 100);
        if (high <= given * free * (1 + Rounding)) return null;
        var over = high > given * (1 + Rounding);
        reasons.Add(new HeadroomReason(
            limit, over, CircuitModel.DriverNode,
            over
                ? $"The driver may have to give {Plain.Figure(high)} {unit}; it gives {Plain.Figure(given)} {unit}."
                : $"The driver may have to give {Plain.Figure(high)} of its {Plain.Figure(given)} {unit}, "
                    + $"which is within the margin of {Plain.Figure(options.MarginPercent)} %.",
            Source)
        { Value = high, LimitValue = given, Unit = unit });
        return over ? Math.Ceiling((10 * high / free) - Rounding) / 10 : null;
    }

    private static double? Least(
        ImmutableArray<HeadroomReason>.Builder reasons, double? least, Estimate? forward)
    {
        if (least is not { } given || forward is null || forward.Low95 >= given) return null;
        var below = forward.High95 < given;
        reasons.Add(new HeadroomReason(
            HeadroomLimit.DriverLeastVolts, below, CircuitModel.DriverNode,
            below
                ? $"The fittings need at most {Plain.Figure(forward.High95)} V; the driver regulates from "
                    + $"{Plain.Figure(given)} V."
                : $"The fittings may need only {Plain.Figure(forward.Low95)} V; the driver regulates from "
                    + $"{Plain.Figure(given)} V.",
            Source)
        { Value = below ? forward.High95 : forward.Low95, LimitValue = given, Unit = "V" });
        return below ? Math.Max(0.001, Math.Floor(10 * forward.Low95) / 10) : null;
    }

    private static void Unknown(ImmutableArray<HeadroomReason>.Builder reasons, string what) =>
        reasons.Add(new HeadroomReason(
            HeadroomLimit.DriverLimitUnknown, false, CircuitModel.DriverNode,
            $"The driver's {what} are not recorded, so nothing was checked against them.", Source));
}
