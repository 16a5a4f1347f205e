using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Calculations.Requests;

/// <summary>
/// What is assumed where the circuit is silent. Whatever is left out stays at its stated default, which is common practice
/// without a source unless one is named.
/// </summary>
public sealed record AssumptionsInput
{
    /// <summary>Conductor in the ground; 15 °C with a standard uncertainty of 5 K where absent.</summary>
    public TemperatureInput? Buried { get; init; }

    /// <summary>Conductor in open air; 20 °C with a standard uncertainty of 10 K where absent.</summary>
    public TemperatureInput? InAir { get; init; }

    /// <summary>Conductor in a warm enclosure; 50 °C with a standard uncertainty of 10 K where absent.</summary>
    public TemperatureInput? WarmBox { get; init; }

    /// <summary>How sure a stated conductor temperature is: standard uncertainty, K, 0 to 100; 2 where absent.</summary>
    [Quantity("K", 0, 100)]
    public double? StatedTemperatureStandardUncertaintyKelvin { get; init; }

    /// <summary>
    /// How far below the greatest resistance of IEC 60228 a sound conductor may measure, %, 0 to 49; 7 where absent. The best
    /// estimate is the middle of that span. With 0 the conductor is taken to measure the maximum.
    /// </summary>
    [Quantity("%", 0, 49)]
    public double? ConductorBelowMaximumPercent { get; init; }

    /// <summary>
    /// Change of an LED's forward voltage with temperature, per kelvin and volt, so that its unit is 1/K, −0.1 to 0.1; −0.001
    /// where absent.
    /// </summary>
    [Quantity("1/K", -0.1, 0.1)]
    public double? ForwardVoltsPerKelvinPerVolt { get; init; }

    /// <summary>
    /// How far a fitting's temperature may be from the one its rating holds for: standard uncertainty, K, 0 to 100; 8 where
    /// absent.
    /// </summary>
    [Quantity("K", 0, 100)]
    public double? FittingTemperatureStandardUncertaintyKelvin { get; init; }

    /// <summary>How an LED's forward voltage follows its current; a white power LED where absent.</summary>
    public LedInput? Led { get; init; }
}

/// <summary>An assumed temperature and how sure one can be of it.</summary>
public sealed record TemperatureInput
{
    /// <summary>Best estimate, °C, −60 to 150.</summary>
    [Quantity("degC", -60, 150)]
    public required double Celsius { get; init; }

    /// <summary>Standard uncertainty, K, 0 to 100.</summary>
    [Quantity("K", 0, 100)]
    public required double StandardUncertaintyKelvin { get; init; }
}

/// <summary>
/// The shape of an LED's forward voltage over its current, as shares of its forward voltage at its stated current. At a
/// multiple m of that current the voltage is 1 + logarithmic share × ln m + resistive share × (m − 1) times as great.
/// </summary>
public sealed record LedInput
{
    /// <summary>Share that grows with the logarithm of the current, no unit, 0 to 1; 0.02614 by default.</summary>
    [Quantity("1", 0, 1)]
    public required double LogarithmicShare { get; init; }

    /// <summary>Share that grows in proportion to the current, no unit, 0 to 1; 0.07122 by default.</summary>
    [Quantity("1", 0, 1)]
    public required double ResistiveShare { get; init; }
}
