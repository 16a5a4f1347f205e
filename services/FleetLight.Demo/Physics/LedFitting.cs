namespace FleetLight.Demo.Physics;

/// <summary>
/// A fitting as a stack of LEDs: diodes that follow the Shockley relation, and a resistance in series. The stack is as
/// tall as its power asks for, 2.95 V an LED at the rated current: typical figures of white power LEDs, no data sheet's.
/// </summary>
/// <param name="Watts">Power that it truly takes at the rated current and 20 °C, W.</param>
/// <param name="RatedAmps">Rated current, A.</param>
internal readonly record struct LedFitting(double Watts, double RatedAmps)
{
    private const double VoltsAnLed = 2.95;

    /// <summary>Ideality 3 times thermal voltage, V an LED and factor e of current.</summary>
    private const double VoltsAnE = 0.077;

    private const double ResistiveShare = 0.07;
    private const double VoltsAKelvin = -0.003;

    /// <summary>Forward voltage, V.</summary>
    /// <param name="amps">Current, A; above 0.</param>
    /// <param name="airCelsius">Air about the fitting, °C.</param>
    public double Volts(double amps, double airCelsius)
    {
        var rated = Watts / RatedAmps;
        var leds = rated / VoltsAnLed;
        return rated
            + (leds * VoltsAnE * Math.Log(amps / RatedAmps))
            + (rated * ResistiveShare * ((amps / RatedAmps) - 1))
            + (leds * VoltsAKelvin * (airCelsius - 20));
    }
}
