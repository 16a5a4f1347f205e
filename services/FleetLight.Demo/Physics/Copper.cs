using FleetLight.Contracts;

namespace FleetLight.Demo.Physics;

/// <summary>Copper conductors.</summary>
internal static class Copper
{
    /// <summary>Conductor areas of the demo, mm².</summary>
    public static IReadOnlyList<double> Areas { get; } = [0.75, 1.0, 1.5, 2.5, 4];

    // Greatest resistance at 20 °C, Ω/km: IEC 60228:2004, plain copper, classes 1 and 2 alike at these areas.
    private static readonly double[] Solid = [24.5, 18.1, 12.1, 7.41, 4.61];
    private static readonly double[] Flexible = [26.0, 19.5, 13.3, 7.98, 4.95];

    /// <summary>Greatest resistance of one conductor at 20 °C, Ω/km.</summary>
    public static double MostOhmsPerKilometre(double areaSquareMillimetres, ConductorClass conductorClass)
    {
        for (var index = 0; index < Areas.Count; index++)
        {
            if (Areas[index] == areaSquareMillimetres)
                return (conductorClass == ConductorClass.Class5 ? Flexible : Solid)[index];
        }

        throw new ArgumentOutOfRangeException(nameof(areaSquareMillimetres), areaSquareMillimetres, "No cable of the demo has this area.");
    }

    /// <summary>Resistance at a conductor temperature (coefficient of annealed copper, IEC 60028), Ω.</summary>
    public static double At(double ohmsAt20, double celsius) => ohmsAt20 * (1 + (0.00393 * (celsius - 20)));
}
