using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>Whether readings over months drift.</summary>
internal static class DriftCalculation
{
    public static readonly Calculation<DriftRequest, DriftAnswer> Calculation = new()
    {
        Name = "drift",
        Summary = "Whether readings over months drift, how fast, and when a limit is crossed",
        Description =
            "Readings are brought to a reference temperature where one is recorded; season, gain of each meter and recorded work are told from "
            + "a drift. The rate is the Theil–Sen slope with its interval, a trend is told where the Mann–Kendall test agrees, and CUSUM and "
            + "EWMA charts watch for small changes. "
            + "By hand, example slow-rise: a loop read every 60 days at 15 °C, 0.02 Ω more each time, rises by 0.02 Ω × 365.25 / 60 = 0.122 Ω a "
            + "year; from 1.18 Ω at the last of ten visits to the limit of 1.30 Ω it takes 0.12 / 0.122 = 0.99 years more. Of ten readings all "
            + "45 pairs rise, so the Mann–Kendall score is 45.",
        Limits = $"{CalculationLimits.MostDriftReadings} readings, {CalculationLimits.MostWorks} works.",
        Units = "V DC, mA, Ω or MΩ, as the quantity says, and the same a year; for insulation factors.",
        IsHeavy = request => request.Readings.Length > HeavyReadings,
        Answer = CalculateDrift.Answer,
    };

    private const int HeavyReadings = 50;
}
