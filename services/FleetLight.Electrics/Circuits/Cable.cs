using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Resistance of one run or tail and how it depends on what is uncertain about it.</summary>
internal readonly struct Cable
{
    /// <summary>How many kinds of temperature there are: one per surroundings, and the stated ones.</summary>
    public const int TemperatureGroups = 4;

    private const double Root3 = 1.7320508075688772;

    /// <summary>Best estimate of the loop resistance, with the joints, Ω.</summary>
    public readonly double Ohms;

    /// <summary>The same at the IEC 60228 maximum, Ω.</summary>
    public readonly double OhmsAtMost;

    /// <summary>Standard uncertainty by the length, Ω.</summary>
    public readonly double ByLength;

    /// <summary>Standard uncertainty by the conductor temperature, Ω; shared within the temperature group.</summary>
    public readonly double ByTemperature;

    /// <summary>Standard uncertainty by where the conductor lies below the maximum, Ω; shared by all runs.</summary>
    public readonly double ByConductor;

    /// <summary>Resistance of the joints, which is taken as exact, Ω.</summary>
    public readonly double JointOhms;

    /// <summary>Which runs share one temperature: 0 to 3.</summary>
    public readonly int TemperatureGroup;

    /// <summary>A run as recorded.</summary>
    public Cable(RunModel run, Assumptions assumptions)
        : this(run, assumptions, 1, run.AreaSquareMillimetres, run.JointOhms)
    {
    }

    /// <summary>A run of another length, area or joint resistance than recorded.</summary>
    public Cable(RunModel run, Assumptions assumptions, double lengthFactor, double area, double jointOhms)
        : this(
            assumptions,
            run.ConductorClass,
            area,
            run.LengthMetres * lengthFactor * run.ConductorsInLoop,
            run.LengthTolerancePercent,
            run.ConductorCelsius is { } celsius
                ? new AssumedTemperature(celsius, assumptions.StatedTemperatureStandardUncertaintyKelvin)
                : assumptions.For(run.Surroundings),
            jointOhms) =>
        TemperatureGroup = run.ConductorCelsius is not null
            ? TemperatureGroups - 1
            : Math.Clamp((int)run.Surroundings, 0, TemperatureGroups - 2);

    /// <summary>A fitting's tail, out and back. It is taken to lie in the ground and its length as exact.</summary>
    public Cable(TailModel tail, Assumptions assumptions)
        : this(
            assumptions, tail.ConductorClass, tail.AreaSquareMillimetres, 2 * tail.LengthMetres, 0,
            assumptions.Buried, 0)
    {
    }

    private Cable(
        Assumptions assumptions, ConductorClass kind, double area, double conductorMetres, double tolerancePercent,
        AssumedTemperature temperature, double jointOhms)
    {
        ConductorResistance.TryOhmsPerKilometreAt20(kind, area, out var perKilometre);
        var below = assumptions.ConductorBelowMaximumPercent / 100;
        var at20 = perKilometre / 1000 * conductorMetres;
        var most = ConductorResistance.AtTemperature(at20, temperature.Celsius);
        var best = most * (1 - (below / 2));
        JointOhms = jointOhms;
        OhmsAtMost = most + jointOhms;
        Ohms = best + jointOhms;
        ByLength = best * tolerancePercent / 100 / Root3;
        ByTemperature = at20 * (1 - (below / 2))
            * ConductorResistance.CopperCoefficientPerKelvin * temperature.StandardUncertaintyKelvin;
        ByConductor = most * below / 2 / Root3;
    }

    /// <summary>The resistance with the inputs away from their best estimates, Ω.</summary>
    /// <param name="deviations">In the layout of <see cref="Input"/>; empty for none.</param>
    /// <param name="lengthInput">Position of the run's own length; −1 where the length is exact.</param>
    public double OhmsAt(ReadOnlySpan<double> deviations, int lengthInput)
    {
        var best = Ohms - JointOhms;
        if (deviations.IsEmpty || !(best > 0)) return Ohms;
        // The three factors multiply; none of them turns a resistance negative.
        var byTemperature = 1 + (ByTemperature / best * deviations[Input.Temperature + TemperatureGroup]);
        var byConductor = 1 + (ByConductor / best * deviations[Input.Conductor]);
        var byLength = lengthInput < 0 ? 1 : 1 + (ByLength / best * deviations[lengthInput]);
        return (best * Math.Max(0, byTemperature) * Math.Max(0, byConductor) * Math.Max(0, byLength)) + JointOhms;
    }

    /// <summary>Adds what one standard uncertainty of each input changes, times a weight.</summary>
    public void AddTo(Span<double> parts, int lengthInput, double perOhm)
    {
        parts[Input.Conductor] += ByConductor * perOhm;
        parts[Input.Temperature + TemperatureGroup] += ByTemperature * perOhm;
        if (lengthInput >= 0) parts[lengthInput] += ByLength * perOhm;
    }
}
