using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>Where to measure next.</summary>
internal static class NextMeasurementCalculation
{
    public static readonly Calculation<NextMeasurementRequest, NextMeasurementAnswer> Calculation = new()
    {
        Name = "next-measurement",
        Summary = "Where to measure next and what, or why to stop",
        Description =
            "Of all that can be measured, that comes first which is expected to tell most for an hour of work about which explanation is true: "
            + "the mutual information between explanation and reading, in bits, under the diagnosis of the readings so far. "
            + "By hand, example which-one: 13.87 V at the driver say that one of six alike fittings is passed by. Which one it is has "
            + "log2 6 = 2.58 bits; a look at which fittings are lit tells them all, a reading at one fitting only whether it is that one: "
            + "−(1/6) log2 (1/6) − (5/6) log2 (5/6) = 0.65 bits. The figures answered differ somewhat, for other explanations are left open.",
        Limits = $"{CalculationLimits.MostPartsDiagnosed} fittings, {CalculationLimits.MostPartsDiagnosed} runs, "
            + $"{CalculationLimits.MostReadings} readings, {CalculationLimits.MostPlaces} places.",
        Units = "bit, min, bit/h; readings as their quantity says; probabilities in %.",
        IsHeavy = _ => true,
        Answer = CalculateNextMeasurement.Answer,
    };
}
