namespace FleetLight.Electrics;

/// <summary>
/// The shape of an LED's forward voltage over its current: the Shockley relation with a series resistance, scaled so
/// that any stack of LEDs follows from its forward voltage at its rated current.
/// </summary>
/// <param name="LogarithmicShare">Share of the rated forward voltage that grows with the logarithm of current.</param>
/// <param name="ResistiveShare">Share of the rated forward voltage that grows in proportion to current.</param>
public readonly record struct LedCurve(double LogarithmicShare, double ResistiveShare)
{
    /// <summary>
    /// A white power LED: ideality 3 at 25 °C (n·kT/q = 0.0771 V) and 0.6 Ω on 2.9485 V at 350 mA. Computed from the
    /// Shockley relation; the parameters are typical, not a data sheet's.
    /// </summary>
    public static LedCurve Default { get; } = new(0.02614, 0.07122);

    /// <summary>Forward voltage at a current, as a multiple of that at the rated current.</summary>
    /// <param name="currentRatio">Current divided by rated current; at or below zero the answer is zero.</param>
    public double VoltsRatio(double currentRatio) => currentRatio > 0
        ? Math.Max(0, 1 + (LogarithmicShare * Math.Log(currentRatio)) + (ResistiveShare * (currentRatio - 1)))
        : 0;

    /// <summary>Relative change of forward voltage per relative change of current, at the rated current.</summary>
    public double SlopeAtRated => LogarithmicShare + ResistiveShare;
}
