using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// Direct-current resistance of plain copper conductors by IEC 60228, and its change with temperature.
/// </summary>
/// <remarks>
/// Figures of the 2004 edition; that of 2023 was not compared. Metal-coated (tinned) conductors are permitted 0.5 to
/// 2.9 % more and are not modelled: where they lie, the figures here are that much too low.
/// </remarks>
public static class ConductorResistance
{
    /// <summary>Temperature coefficient of annealed copper at 20 °C, per kelvin: 0.00393 (IEC 60028).</summary>
    /// <remarks>
    /// The correction factors tabulated in IEC 60228 Annex B follow 0.004 per kelvin instead; the two differ by at most
    /// 0.3 % up to 70 °C. This library uses the IEC 60028 figure.
    /// </remarks>
    public const double CopperCoefficientPerKelvin = 0.00393;

    /// <summary>Resistivity of standard annealed copper at 20 °C, Ω·mm²/m: 0.017241 (IEC 60028, 58.0 MS/m).</summary>
    public const double CopperResistivityOhmSquareMillimetresPerMetre = 0.017241;

    /// <summary>The temperature at which IEC 60228 states its resistances, °C.</summary>
    public const double ReferenceCelsius = 20;

    private static readonly double[] Areas = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10, 16];

    // IEC 60228:2004 tables 1 and 2 (classes 1 and 2, plain); the 16 mm² figure is from memory.
    private static readonly double[] SolidOrStranded = [36.0, 24.5, 18.1, 12.1, 7.41, 4.61, 3.08, 1.83, 1.15];

    // IEC 60228:2004 table 3 (class 5, plain); the 16 mm² figure is from memory.
    private static readonly double[] Flexible = [39.0, 26.0, 19.5, 13.3, 7.98, 4.95, 3.30, 1.91, 1.21];

    /// <summary>The conductor areas this library knows, mm², ascending.</summary>
    public static IReadOnlyList<double> StandardAreasSquareMillimetres => Areas;

    /// <summary>
    /// Greatest resistance that IEC 60228 permits at 20 °C for one plain copper conductor, Ω/km (equally mΩ/m).
    /// </summary>
    /// <param name="conductorClass">Class 1, 2 or 5.</param>
    /// <param name="areaSquareMillimetres">A standard area from 0.5 to 16 mm². Nothing is interpolated.</param>
    /// <param name="ohmsPerKilometre">The figure, or zero where there is none.</param>
    /// <returns>False where the area is not a standard one or the class is unknown.</returns>
    /// <remarks>A real conductor may measure lower: the figure is a maximum, not a nominal value.</remarks>
    public static bool TryOhmsPerKilometreAt20(
        ConductorClass conductorClass, double areaSquareMillimetres, out double ohmsPerKilometre)
    {
        ohmsPerKilometre = 0;
        var table = conductorClass switch
        {
            ConductorClass.Class1 or ConductorClass.Class2 => SolidOrStranded,
            ConductorClass.Class5 => Flexible,
            _ => null,
        };
        var index = Array.IndexOf(Areas, areaSquareMillimetres);
        if (table is null || index < 0) return false;
        ohmsPerKilometre = table[index];
        return true;
    }

    /// <summary>A resistance stated at 20 °C, as it is at another conductor temperature (IEC 60028).</summary>
    /// <param name="resistanceAt20">Resistance at 20 °C in any unit; the answer is in the same unit.</param>
    /// <param name="celsius">Conductor temperature, °C; the straight line holds from about −20 to 100 °C.</param>
    public static double AtTemperature(double resistanceAt20, double celsius) =>
        resistanceAt20 * (1 + (CopperCoefficientPerKelvin * (celsius - ReferenceCelsius)));

    /// <summary>A measured resistance, as it is at 20 °C: the inverse of <see cref="AtTemperature"/>.</summary>
    /// <param name="resistance">Resistance in any unit; the answer is in the same unit.</param>
    /// <param name="celsius">Conductor temperature, °C; −60 to 150.</param>
    /// <returns>Null where the temperature is out of range.</returns>
    public static double? At20(double resistance, double celsius) =>
        celsius is >= -60 and <= 150 ? resistance / AtTemperature(1, celsius) : null;
}
