using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Demo.Planning;

/// <summary>What a circuit's fittings are called, and how their boxes lie.</summary>
/// <param name="Fitting">What a fitting is.</param>
/// <param name="Circuit">What people call a circuit of them.</param>
/// <param name="Lie">How their boxes lie.</param>
internal sealed record Ware(string Fitting, string Circuit, BoxLie Lie);

/// <summary>The wares of the invented contractor: plain sorts of fitting and driver, nobody's products.</summary>
internal static class Wares
{
    /// <summary>A fitting on a ground spike.</summary>
    public static Ware Spike { get; } = new("spike light", "Path lights", BoxLie.OnSpike);

    /// <summary>A fitting in the ground.</summary>
    public static Ware Uplight { get; } = new("in-ground uplight", "Tree uplights", BoxLie.FlatInGround);

    /// <summary>All sorts.</summary>
    public static IReadOnlyList<Ware> All { get; } =
    [
        Spike,
        new("bollard light", "Border lights", BoxLie.OnSpike),
        new("wall light", "Wall lights", BoxLie.OnWall),
        new("step light", "Step lights", BoxLie.OnWall),
        Uplight,
    ];

    /// <summary>Rated powers of fittings by drive current, W.</summary>
    public static IReadOnlyDictionary<int, double[]> WattsByMilliamps { get; } = new Dictionary<int, double[]>
    {
        [350] = [0.6, 1.2, 1.6, 2.6],
        [500] = [0.9, 1.7, 2.4],
        [700] = [1.2, 2.3, 3.4],
    };

    /// <summary>Rated powers of fittings by supply voltage, W.</summary>
    public static IReadOnlyDictionary<int, double[]> WattsByVolts { get; } = new Dictionary<int, double[]>
    {
        [12] = [2.0, 3.0],
        [24] = [3.0, 5.0, 7.0],
    };

    /// <summary>
    /// Greatest voltages of the constant-current drivers, V. The open output of the largest is 30 V: a careful designer
    /// stays within what may be touched in the wet (IEC 60364-4-41, 414.4.5).
    /// </summary>
    public static IReadOnlyList<double> MostVolts { get; } = [12, 16, 20, 26];

    /// <summary>Share of a driver's greatest voltage or power that a careful designer asks for at most.</summary>
    public const double MostLoad = 0.82;

    /// <summary>The smallest constant-current driver that feeds so many volts with room in hand.</summary>
    public static DriverDesign CurrentDriver(int milliamps, double volts) =>
        CurrentDriverOf(milliamps, MostVolts.First(each => volts <= MostLoad * each));

    /// <summary>The constant-current driver of that greatest voltage, V.</summary>
    public static DriverDesign CurrentDriverOf(int milliamps, double mostVolts) => new()
    {
        RatedMilliamps = milliamps,
        LeastVolts = mostVolts / 5,
        MostVolts = mostVolts,
        MostWatts = Math.Round(mostVolts * milliamps / 1000, 1),
        OpenCircuitVolts = mostVolts + 4,
        TolerancePercent = 5,
    };

    /// <summary>The smallest constant-voltage driver that feeds so many watts with room in hand.</summary>
    public static DriverDesign VoltageDriver(int volts, double watts)
    {
        double[] most = [20, 30, 60, 100, 150];
        return new DriverDesign
        {
            RatedVolts = volts,
            MostWatts = most.First(each => watts <= MostLoad * each),
            OpenCircuitVolts = volts * 1.02,
            TolerancePercent = 3,
        };
    }

    /// <summary>Outside diameter of a cable, mm.</summary>
    public static double DiameterMillimetres(double areaSquareMillimetres, bool thirdCore)
    {
        var twoCore = areaSquareMillimetres switch { <= 0.75 => 6.8, <= 1 => 7.4, <= 1.5 => 8.6, <= 2.5 => 10.2, _ => 11.8 };
        return Math.Round(twoCore * (thirdCore ? 1.06 : 1), 1);
    }
}
