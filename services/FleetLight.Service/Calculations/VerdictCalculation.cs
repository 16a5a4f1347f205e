using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>Whether readings are what a sound circuit would show.</summary>
internal static class VerdictCalculation
{
    public static readonly Calculation<VerdictRequest, VerdictAnswer> Calculation = new()
    {
        Name = "verdict",
        Summary = "Whether readings are what a sound circuit would show",
        Description =
            "Each reading is held against what the circuit should read, with the uncertainties of design and meter combined. Insulation "
            + "resistance is held against the least value of IEC 60364-6. Judged by the decision rules of JCGM 106, with the stated risks of "
            + "'rule' whatever an organisation has set for its own circuits. Several readings are also judged together, with what they share of "
            + "the circuit's and the meter's uncertainty, so that the risk of a false alarm holds for the set. Advice, never a certificate. "
            + "By hand, example one-load: the fitting should read 11.099 V (see expected). A meter of ± (1 % + 3 × 0.01 V) is off by at most "
            + "0.141 V at 11.1 V, so its standard uncertainty is 0.141 V / √3 = 0.081 V. A reading of 9.5 V lies 1.6 V below, far outside; "
            + "one of 11.05 V lies 0.05 V below, well within.",
        Limits = $"{CalculationLimits.MostFittings:N0} fittings, {CalculationLimits.MostRuns:N0} runs, {CalculationLimits.MostReadings} readings; together "
            + $"the last 64 of up to {CalculationLimits.MostPartsJudgedTogether} fittings and runs.",
        Units = "V DC, mA, Ω or MΩ, as the quantity of the reading says.",
        IsHeavy = request => HeavyCircuit.Is(request.Circuit) || IsMuchTogether(request),
        Answer = CalculateVerdict.Answer,
    };

    // Where the set is near the limit, it is drawn some ten thousand times.
    private const int MuchTogether = 200;

    private static bool IsMuchTogether(VerdictRequest request) => CalculateVerdict.IsTogether(request)
        && request.Readings.Length * (request.Circuit.Fittings.Length + request.Circuit.Runs.Length) > MuchTogether;
}
