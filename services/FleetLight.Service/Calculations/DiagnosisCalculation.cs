using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>What would explain a circuit's readings.</summary>
internal static class DiagnosisCalculation
{
    public static readonly Calculation<DiagnosisRequest, DiagnosisAnswer> Calculation = new()
    {
        Name = "diagnosis",
        Summary = "What would explain a circuit's readings, and what to do",
        Description =
            "Every fault of a catalogue is put into the circuit, what it would read is worked out with its uncertainty, and Bayes' rule weighs "
            + "them by the stated priors, given all readings together. What the readings cannot tell apart is returned as one group. Advice, "
            + "never a certificate: isolate, prove dead and follow the local code before anything is opened. "
            + "By hand, example one-passed-by: six fittings of 2.7 V and 0.372 V in the cable should read 16.572 V at the driver (see expected); "
            + "13.87 V is 2.70 V less, the volts of one fitting; fitting f3 is dark and the others are lit, so it is f3 that the current "
            + "passes by.",
        Limits = $"{CalculationLimits.MostPartsDiagnosed} fittings, {CalculationLimits.MostPartsDiagnosed} runs, "
            + $"{CalculationLimits.MostReadings} readings, of which the last {CalculationLimits.MostReadingsUsed} usable ones are used.",
        Units = "V DC, mA, Ω or MΩ, as the quantity of the reading says; probabilities in %.",
        IsHeavy = _ => true,
        Answer = CalculateDiagnosis.Answer,
    };
}
