using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>
/// Everything that is assumed where the record is silent. Each default is common practice without a source unless a
/// source is named; each can be overridden.
/// </summary>
public sealed record Assumptions
{
    /// <summary>The stated defaults.</summary>
    public static Assumptions Default { get; } = new();

    /// <summary>Conductor in the ground: soil at cable depth, 15 °C ± 5 K.</summary>
    public AssumedTemperature Buried { get; init; } = new(15, 5);

    /// <summary>Conductor in open air, 20 °C ± 10 K.</summary>
    public AssumedTemperature InAir { get; init; } = new(20, 10);

    /// <summary>Conductor in a warm enclosure, 50 °C ± 10 K.</summary>
    public AssumedTemperature WarmBox { get; init; } = new(50, 10);

    /// <summary>How sure a stated conductor temperature is: standard uncertainty, K.</summary>
    public double StatedTemperatureStandardUncertaintyKelvin { get; init; } = 2;

    /// <summary>
    /// How far below the greatest resistance of IEC 60228 a sound conductor may measure, %; 0 to below 50.
    /// </summary>
    /// <remarks>
    /// 7 is the gap between the IEC 60228 maximum of 2.5 mm² class 1 (7.41 Ω/km) and the same area of standard annealed
    /// copper (IEC 60028: 6.90 Ω/km). The best estimate is the middle of that span, taken as rectangular.
    /// </remarks>
    public double ConductorBelowMaximumPercent { get; init; } = 7;

    /// <summary>
    /// Change of an LED's forward voltage with temperature, per kelvin and volt: −3 mV/K on 3.0 V (Khanna,
    /// Fundamentals of Solid-State Lighting, 2014, eq. 14.1).
    /// </summary>
    public double ForwardVoltsPerKelvinPerVolt { get; init; } = -0.001;

    /// <summary>
    /// How far a fitting's temperature may be from the one its rating holds for: standard uncertainty, K.
    /// </summary>
    public double FittingTemperatureStandardUncertaintyKelvin { get; init; } = 8;

    /// <summary>How an LED's forward voltage follows its current.</summary>
    public LedCurve Led { get; init; } = LedCurve.Default;

    /// <summary>The assumed conductor temperature for the surroundings; an unknown value is taken as buried.</summary>
    public AssumedTemperature For(RunSurroundings surroundings) => surroundings switch
    {
        RunSurroundings.InAir => InAir,
        RunSurroundings.WarmBox => WarmBox,
        _ => Buried,
    };
}
