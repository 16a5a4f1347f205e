using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.Spice;

/// <summary>Resistance of copper cable, written down a second time: the code under test is not asked.</summary>
internal static class Copper
{
    /// <summary>The areas of IEC 60228 that occur, mm².</summary>
    public static readonly double[] Areas = [0.5, 0.75, 1, 1.5, 2.5, 4, 6, 10];

    /// <summary>Resistance of one conductor of a cable, best estimate, Ω.</summary>
    /// <param name="kind">Conductor class.</param>
    /// <param name="area">Conductor area, mm².</param>
    /// <param name="metres">Length, m.</param>
    /// <param name="celsius">Conductor temperature, °C.</param>
    /// <param name="belowMaximumPercent">
    /// How far below its maximum a conductor may be, %: the best estimate is in the middle.
    /// </param>
    public static double Ohms(
        ConductorClass kind, double area, double metres, double celsius, double belowMaximumPercent)
    {
        var most = 0.001 * MostPerKilometre(kind, area) * metres;
        var least = most * (100 - belowMaximumPercent) / 100;
        // IEC 60028: 0.393 % per kelvin from 20 °C.
        return (most + least) / 2 * (1 + (0.00393 * (celsius - 20)));
    }

    // IEC 60228:2004 tables 1, 2 and 3, plain copper, Ω/km at 20 °C.
    private static double MostPerKilometre(ConductorClass kind, double area) => (kind, area) switch
    {
        (ConductorClass.Class5, 0.5) => 39.0,
        (ConductorClass.Class5, 0.75) => 26.0,
        (ConductorClass.Class5, 1) => 19.5,
        (ConductorClass.Class5, 1.5) => 13.3,
        (ConductorClass.Class5, 2.5) => 7.98,
        (ConductorClass.Class5, 4) => 4.95,
        (ConductorClass.Class5, 6) => 3.30,
        (ConductorClass.Class5, 10) => 1.91,
        (_, 0.5) => 36.0,
        (_, 0.75) => 24.5,
        (_, 1) => 18.1,
        (_, 1.5) => 12.1,
        (_, 2.5) => 7.41,
        (_, 4) => 4.61,
        (_, 6) => 3.08,
        (_, 10) => 1.83,
        _ => throw new ArgumentOutOfRangeException(nameof(area), area, "Not in the tables."),
    };
}
