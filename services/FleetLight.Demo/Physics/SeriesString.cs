namespace FleetLight.Demo.Physics;

/// <summary>A constant-current driver with its fittings in series.</summary>
/// <param name="Amps">Current that the driver truly holds, A.</param>
/// <param name="MostVolts">Voltage up to which it holds it, V.</param>
/// <param name="OpenVolts">Voltage at its output with nothing connected, V.</param>
internal sealed record SeriesString(double Amps, double MostVolts, double OpenVolts)
{
    /// <summary>Volts and amps at the driver.</summary>
    /// <param name="fittings">The fittings in the loop.</param>
    /// <param name="ohms">Cable and contacts, Ω.</param>
    /// <param name="airCelsius">Air about the fittings, °C.</param>
    /// <param name="open">Whether the loop is open or a diode in it stands against the current.</param>
    public (double Volts, double Amps) Solve(IReadOnlyCollection<LedFitting> fittings, double ohms, double airCelsius, bool open)
    {
        if (open) return (OpenVolts, 0);
        double VoltsAt(double amps) => (amps * ohms) + fittings.Sum(fitting => fitting.Volts(amps, airCelsius));
        var volts = VoltsAt(Amps);
        if (volts <= MostVolts) return (volts, Amps);

        // Out of regulation: the voltage stays at the driver's limit and the current falls to what that drives.
        double low = Amps * 1e-6, high = Amps;
        for (var halving = 0; halving < 60; halving++)
        {
            var middle = (low + high) / 2;
            if (VoltsAt(middle) > MostVolts) high = middle;
            else low = middle;
        }

        return (MostVolts, low);
    }
}
