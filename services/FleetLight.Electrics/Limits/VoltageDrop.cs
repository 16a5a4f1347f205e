using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Voltage drop of two-core cable, and the drops that are permitted or usual.</summary>
public static class VoltageDrop
{
    /// <summary>Drop permitted for lighting from a public supply, % of nominal (IEC 60364-5-52 table G.52.1).</summary>
    public const double MostLightingPercent = 3;

    /// <summary>
    /// Drop that is usual at most from a 12 or 24 V driver to the last fitting, %. Common practice, no source.
    /// </summary>
    public const double UsualExtraLowVoltagePercent = 5;

    /// <summary>What that figure rests on.</summary>
    public const string UsualSource = "common practice, no source";

    /// <summary>
    /// Resistivity that IEC 60364-5-52 Annex G takes for copper in normal service, Ω·mm²/m: 1.25 times that at 20
    /// °C.
    /// </summary>
    public const double AnnexGResistivity = 0.0225;

    /// <summary>Drop of two-core cable at the IEC 60228 maximum resistance, mV per ampere and metre.</summary>
    /// <param name="conductorClass">Conductor class.</param>
    /// <param name="areaSquareMillimetres">Conductor area, one of the standard areas, mm².</param>
    /// <param name="celsius">Conductor temperature, °C; −60 to 150.</param>
    /// <returns>Null where the area is not a standard one or the temperature is out of range.</returns>
    public static double? MillivoltsPerAmpereMetre(
        ConductorClass conductorClass, double areaSquareMillimetres, double celsius) =>
        celsius is >= -60 and <= 150
        && ConductorResistance.TryOhmsPerKilometreAt20(conductorClass, areaSquareMillimetres, out var ohms)
            ? 2 * ConductorResistance.AtTemperature(ohms, celsius)
            : null;

    /// <summary>
    /// Drop of a two-core direct-current run by the simplified formula of IEC 60364-5-52 Annex G, V: twice the
    /// resistivity times length times current, divided by area.
    /// </summary>
    /// <param name="lengthMetres">Length of the cable, m; 0 or more.</param>
    /// <param name="areaSquareMillimetres">Conductor area, mm²; above 0.</param>
    /// <param name="amps">Current, A; 0 or more.</param>
    /// <returns>Null where an input is out of range.</returns>
    public static double? AnnexGVolts(double lengthMetres, double areaSquareMillimetres, double amps)
    {
        var volts = 2 * AnnexGResistivity * lengthMetres * amps / areaSquareMillimetres;
        return lengthMetres >= 0 && areaSquareMillimetres > 0 && amps >= 0 && double.IsFinite(volts) ? volts : null;
    }
}
