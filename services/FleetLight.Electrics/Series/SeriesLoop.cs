using System.Collections.Immutable;
using System.Runtime.CompilerServices;

namespace FleetLight.Electrics;

/// <summary>The cable of a series circuit as one resistance.</summary>
internal ref struct SeriesLoop
{
    private double lengthVariance;
    private double longestLengthPart;
    private double conductor;
    private ByGroup temperature;

    /// <summary>Best estimate, Ω.</summary>
    public double Ohms { get; private set; }

    /// <summary>At the IEC 60228 maximum, Ω.</summary>
    public double OhmsAtMost { get; private set; }

    public static SeriesLoop Of(ImmutableArray<RunModel> runs, Assumptions assumptions)
    {
        var loop = new SeriesLoop();
        foreach (var run in runs)
        {
            var cable = new Cable(run, assumptions);
            loop.Ohms += cable.Ohms;
            loop.OhmsAtMost += cable.OhmsAtMost;
            loop.lengthVariance += cable.ByLength * cable.ByLength;
            loop.longestLengthPart = Math.Max(loop.longestLengthPart, cable.ByLength);
            loop.conductor += cable.ByConductor;
            loop.temperature[cable.TemperatureGroup] += cable.ByTemperature;
        }

        return loop;
    }

    /// <summary>
    /// Adds the cable's contributions to a quantity that changes by <paramref name="perOhm"/> for each Ω.
    /// </summary>
    public readonly void AddTo(ref BudgetBuilder budget, double perOhm)
    {
        var others = lengthVariance - (longestLengthPart * longestLengthPart);
        budget.Rectangular(UncertaintySource.CableLength, longestLengthPart * perOhm);
        budget.Normal(UncertaintySource.CableLength, Math.Sqrt(Math.Max(0, others)) * perOhm);
        budget.Rectangular(UncertaintySource.ConductorResistance, conductor * perOhm);
        for (var i = 0; i < Cable.TemperatureGroups; i++)
            budget.Normal(UncertaintySource.ConductorTemperature, temperature[i] * perOhm);
    }

    [InlineArray(Cable.TemperatureGroups)]
    private struct ByGroup
    {
        private double first;
    }
}
