using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Holds a circuit against the rating of its driver.</summary>
public static class DriverWindow
{
    /// <summary>
    /// Share of a driver's greatest volts, watts or amps from which it counts as near its limit: 90 %. Common practice,
    /// no source.
    /// </summary>
    public const double NearLimitPercent = 90;

    internal static DriverLoading Loading(DriverModel driver, double volts, double watts, double amps) =>
        new(100 * volts / driver.MostVolts, 100 * watts / driver.MostWatts, 100 * amps / driver.MostAmps);

    internal static CannotExpect? ConstantCurrentObstacle(DriverModel driver, Estimate volts, Estimate watts)
    {
        if (driver.MostVolts is { } most && volts.Low95 > most)
            return Beyond(volts.Best, "V", most, "driver.mostVolts");
        if (driver.MostWatts is { } mostWatts && watts.Low95 > mostWatts)
            return Beyond(watts.Best, "W", mostWatts, "driver.mostWatts");
        if (driver.LeastVolts is { } least && volts.High95 < least)
        {
            return new CannotExpect(
                RefusalReason.BelowDriver,
                $"The fittings need {Plain.Figure(volts.Best)} V; the driver begins at {Plain.Figure(least)} V.",
                "driver.leastVolts");
        }

        return null;
    }

    internal static CannotExpect? ConstantVoltageObstacle(DriverModel driver, Estimate milliamps, Estimate watts)
    {
        if (driver.MostAmps is { } most && milliamps.Low95 > most * 1000)
            return Beyond(milliamps.Best / 1000, "A", most, "driver.mostAmps");
        if (driver.MostWatts is { } mostWatts && watts.Low95 > mostWatts)
            return Beyond(watts.Best, "W", mostWatts, "driver.mostWatts");
        return null;
    }

    internal static ImmutableArray<ExpectationNote> Notes(
        DriverModel driver, DriveKind drive, Estimate volts, Estimate watts, double amps)
    {
        ImmutableArray<ExpectationNote> notes = [];
        if (drive == DriveKind.ConstantCurrent)
        {
            Near(ref notes, volts.Best, driver.MostVolts, "V", "driver.mostVolts");
            if (driver.LeastVolts is { } least && volts.Low95 < least)
            {
                notes = notes.Add(new ExpectationNote(
                    NoteCode.DriverNearLeastVolts,
                    $"The fittings may need less than the {Plain.Figure(least)} V from which the driver regulates.",
                    "driver.leastVolts"));
            }
        }
        else
        {
            Near(ref notes, amps, driver.MostAmps, "A", "driver.mostAmps");
        }

        Near(ref notes, watts.Best, driver.MostWatts, "W", "driver.mostWatts");
        return notes;
    }

    private static void Near(
        ref ImmutableArray<ExpectationNote> notes, double value, double? most, string unit, string field)
    {
        if (most is not { } limit || !(100 * value >= NearLimitPercent * limit)) return;
        notes = notes.Add(new ExpectationNote(
            NoteCode.DriverNearLimit,
            $"The driver gives {Plain.Figure(value)} {unit} of the {Plain.Figure(limit)} {unit} it can.",
            field));
    }

    private static CannotExpect Beyond(double value, string unit, double most, string field) => new(
        RefusalReason.BeyondDriver,
        $"The circuit asks for {Plain.Figure(value)} {unit}; the driver gives {Plain.Figure(most)} {unit} at most.",
        field);
}
