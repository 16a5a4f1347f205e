using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;
using HeadroomAnswer = FleetLight.Contracts.Calculations.Answers.HeadroomAnswer;

namespace FleetLight.Service.Calculations;

/// <summary>Whether fittings may be added to a circuit.</summary>
internal static class HeadroomCalculation
{
    public static readonly Calculation<HeadroomRequest, HeadroomAnswer> Calculation = new()
    {
        Name = "headroom",
        Summary = "Whether fittings may be added, how long a new run may be, and what would make it possible",
        Description =
            "The circuit with the added fittings is held against the limits of the driver, of the fittings, of the cable and of touch; each "
            + "reason names its source. Where the answer is no, the cheapest changes that make it possible are proposed. "
            + "By hand, example two-more: six fittings of 2.7 V and 0.372 V in the cable (see expected) and two more of 2.7 V take "
            + "16.572 V + 5.4 V = 21.972 V; of 24 V there are 2.028 V left, less than the 10 % to be kept free. "
            + "Example longest-run: 10 W at the end of a new run may drop 5 % of 12 V, 0.6 V: 10 W / 11.4 V = 0.877 A and 0.6 V / 0.877 A = 0.684 Ω, "
            + "which 0.684 Ω / (2 × 7.98 mΩ/m) = 42.8 m of 2.5 mm² class 5 at 20 °C have.",
        Limits =
            $"{CalculationLimits.MostPartsAddedTo:N0} fittings and runs, {CalculationLimits.MostAdded} fittings to add, "
            + $"{CalculationLimits.MostCatalogueWatts} wattages.",
        Units = "V DC, W, A, m, mm², %.",
        IsHeavy = request => HeadroomCalculation.IsHeavy(request.Circuit.Fittings.Length + request.Circuit.Runs.Length + request.Add.Length),
        Answer = CalculateHeadroom.Answer,
    };

    // Each length and each change that is tried is a circuit worked out whole.
    private const int HeavyParts = 50;

    /// <summary>Whether so many fittings, runs and fittings to add together may take long.</summary>
    public static bool IsHeavy(int parts) => parts > HeavyParts;
}
