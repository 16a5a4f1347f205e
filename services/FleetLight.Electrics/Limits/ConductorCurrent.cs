using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>The current that a conductor can carry, with what the figure rests on.</summary>
/// <param name="Amps">Current-carrying capacity, A.</param>
/// <param name="Source">The published table.</param>
/// <param name="Holds">What the figure holds for, in plain words.</param>
public sealed record ConductorRating(double Amps, string Source, string Holds);

/// <summary>Current-carrying capacity of two loaded copper conductors in PVC insulation (70 °C).</summary>
/// <remarks>
/// The tables hold for classes 1 and 2; class 5 is rated alike here, which is common practice. One loaded cable alone:
/// several in one duct heat each other and carry less, and no grouping factor is applied. An extra-low-voltage lighting
/// circuit is nearly always sized by its voltage drop and stays far below these figures.
/// </remarks>
public static class ConductorCurrent
{
    /// <summary>Table for 1.5 to 16 mm².</summary>
    public const string Source = "IEC 60364-5-52:2009 table B.52.2";

    /// <summary>Table for 0.5 to 1 mm², which the other leaves out.</summary>
    public const string SmallSource = "ABNT NBR 5410:2004 table 36";

    /// <summary>Greatest temperature of a conductor in PVC insulation, °C (IEC 60364-5-52 table 52.1).</summary>
    public const double MostCelsius = 70;

    /// <summary>Temperature of the ground that the tables take, °C.</summary>
    public const double GroundCelsius = 20;

    /// <summary>Temperature of the air that the tables take, °C.</summary>
    public const double AirCelsius = 30;

    /// <summary>Factor for air of 50 °C, PVC insulation (IEC 60364-5-52 table B.52.14).</summary>
    public const double WarmBoxFactor = 0.71;

    // Reference method D1: multicore cable in a duct in the ground, soil of 2.5 K·m/W.
    private static readonly double[] InDuct = [12, 15, 18, 22, 29, 37, 46, 60, 78];

    // Reference method C: multicore cable clipped to a wall. The rows to 1 mm² are from NBR 5410.
    private static readonly double[] Clipped = [10, 13, 15, 19.5, 27, 36, 46, 63, 85];

    /// <summary>The current-carrying capacity; null where the area is not a standard one from 0.5 to 16 mm².</summary>
    /// <param name="areaSquareMillimetres">Conductor area, mm².</param>
    /// <param name="surroundings">Where it lies; an unknown value is taken as buried.</param>
    public static ConductorRating? Rating(double areaSquareMillimetres, RunSurroundings surroundings)
    {
        var index = -1;
        for (var i = 0; i < InDuct.Length && index < 0; i++)
            if (ConductorResistance.StandardAreasSquareMillimetres[i] == areaSquareMillimetres) index = i;
        if (index < 0) return null;
        var source = areaSquareMillimetres < 1.5 ? SmallSource : Source;
        return surroundings switch
        {
            RunSurroundings.InAir =>
                new(Clipped[index], source, "one cable clipped to a wall, air of 30 °C (method C)"),
            RunSurroundings.WarmBox => new(
                Clipped[index] * WarmBoxFactor,
                source + "; IEC 60364-5-52 table B.52.14",
                "one cable in air of 50 °C (method C times 0.71)"),
            _ => new(InDuct[index], source, "one cable in a duct, ground of 20 °C, 2.5 K·m/W (method D1)"),
        };
    }

    /// <summary>
    /// How much warmer than its surroundings a conductor becomes by its own current, K: an estimate from the table, not
    /// a published figure.
    /// </summary>
    /// <param name="areaSquareMillimetres">Conductor area, mm².</param>
    /// <param name="surroundings">Where it lies.</param>
    /// <param name="amps">Current in each conductor, A; 0 to 10,000.</param>
    /// <returns>Null where the area is not a standard one or the current is out of range.</returns>
    /// <remarks>
    /// At the tabulated current the conductor is at 70 °C, so it has risen by 70 °C less what the table takes around
    /// it. The heat grows with the square of the current and the rise with the heat. The resistance is taken at 70 °C,
    /// so the estimate is too high, by up to 20 %, where the conductor stays cool. Buried 1 mm² at 700 mA: below 0.1 K.
    /// </remarks>
    public static double? SelfHeatingKelvin(
        double areaSquareMillimetres, RunSurroundings surroundings, double amps)
    {
        if (!(amps is >= 0 and <= 10_000) || Rating(areaSquareMillimetres, surroundings) is not { } rating) return null;
        var around = surroundings switch
        {
            RunSurroundings.InAir => AirCelsius,
            RunSurroundings.WarmBox => 50,
            _ => GroundCelsius,
        };
        var share = amps / rating.Amps;
        return (MostCelsius - around) * share * share;
    }
}
