namespace FleetLight.Electrics;

/// <summary>Resistance of one run and how it depends on what is uncertain about it.</summary>
internal readonly struct Cable
{
    /// <summary>How many kinds of temperature there are: one per surroundings, and the stated ones.</summary>
    public const int TemperatureGroups = 4;

    private const double Root3 = 1.7320508075688772;

    /// <summary>Best estimate of the loop resistance, Ω.</summary>
    public readonly double Ohms;

    /// <summary>The same at the IEC 60228 maximum, Ω.</summary>
    public readonly double OhmsAtMost;

    /// <summary>Standard uncertainty by the length, Ω.</summary>
    public readonly double ByLength;

    /// <summary>Standard uncertainty by the conductor temperature, Ω; shared within the temperature group.</summary>
    public readonly double ByTemperature;

    /// <summary>Standard uncertainty by where the conductor lies below the maximum, Ω; shared by all runs.</summary>
    public readonly double ByConductor;

    /// <summary>Which runs share one temperature: 0 to 3.</summary>
    public readonly int TemperatureGroup;

    public Cable(RunModel run, Assumptions assumptions)
    {
        ConductorResistance.TryOhmsPerKilometreAt20(
            run.ConductorClass, run.AreaSquareMillimetres, out var perKilometre);
        var temperature = run.ConductorCelsius is { } celsius
            ? new AssumedTemperature(celsius, assumptions.StatedTemperatureStandardUncertaintyKelvin)
            : assumptions.For(run.Surroundings);
        var below = assumptions.ConductorBelowMaximumPercent / 100;
        var at20 = perKilometre / 1000 * run.LengthMetres * run.ConductorsInLoop;
        OhmsAtMost = ConductorResistance.AtTemperature(at20, temperature.Celsius);
        Ohms = OhmsAtMost * (1 - (below / 2));
        ByLength = Ohms * run.LengthTolerancePercent / 100 / Root3;
        ByTemperature = at20 * (1 - (below / 2))
            * ConductorResistance.CopperCoefficientPerKelvin * temperature.StandardUncertaintyKelvin;
        ByConductor = OhmsAtMost * below / 2 / Root3;
        TemperatureGroup = run.ConductorCelsius is not null
            ? TemperatureGroups - 1
            : Math.Clamp((int)run.Surroundings, 0, TemperatureGroups - 2);
    }
}
