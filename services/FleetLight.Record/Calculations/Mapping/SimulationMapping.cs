using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>How to simulate a circuit, and what a simulation says.</summary>
internal static class SimulationMapping
{
    /// <summary>How to simulate.</summary>
    public static SimulationOptions Options(SimulationInput? given)
    {
        var defaults = SimulationOptions.Default;
        return new SimulationOptions
        {
            Seed = given?.Seed ?? defaults.Seed,
            MostTrials = given?.MostTrials ?? defaults.MostTrials,
            SignificantDigits = given?.SignificantDigits ?? defaults.SignificantDigits,
        };
    }

    /// <summary>What it says; none where there is nothing to simulate.</summary>
    public static SimulatedFigures? Figures(SimulatedReadings simulated) => simulated.Refusal is not null
        ? null
        : new SimulatedFigures
        {
            Seed = (int)simulated.Seed,
            Trials = simulated.Trials,
            WithoutOperatingPointPercent = 100 * simulated.ShareWithoutOperatingPoint,
            IsStable = simulated.IsStable,
            FirstOrderIsEnough = simulated.FirstOrderIsEnough,
            Quantities = [.. simulated.Quantities.Select(Figure)],
        };

    private static SimulatedFigure Figure(SimulatedQuantity simulated) => new()
    {
        Place = simulated.Place,
        Quantity = WireWord.Of<MeasuredQuantity, MeasuredAs>(simulated.Quantity),
        Mean = simulated.Mean,
        StandardUncertainty = simulated.StandardUncertainty,
        Low = simulated.Low95,
        High = simulated.High95,
        ShortestLow = simulated.ShortestLow95,
        ShortestHigh = simulated.ShortestHigh95,
        Tolerance = simulated.Tolerance,
        IsStable = simulated.IsStable,
        FirstOrderIsEnough = simulated.FirstOrderIsEnough,
        FirstOrder = FigureMapping.Plain(simulated.FirstOrder),
        SecondOrderShift = simulated.SecondOrderShift,
        SecondOrderStandardUncertainty = simulated.SecondOrderStandardUncertainty,
    };
}
