using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>How full a duct is, and which cable goes in besides.</summary>
internal static class DuctFillCalculation
{
    public static readonly Calculation<DuctFillRequest, DuctFillAnswer> Calculation = new()
    {
        Name = "duct-fill",
        Summary = "How full a duct is, and which cable goes in besides",
        Description =
            "Fill by cross-section, by a published rule or a stated greatest fill. Each cable under 'more' is asked about by itself: does it go "
            + "in besides the cables that are in? Guidance, not a limit. By hand, example three-cables: 3 × 9² / 40² = 15.2 % of a 40 mm bore; "
            + "with one of 20 mm besides (3 × 9² + 20²) / 40² = 40.2 %, which keeps 45 %; the thickest that does has "
            + "√(0.45 × 40² − 3 × 9²) = 21.8 mm.",
        Limits = $"{CalculationLimits.MostCableKinds} kinds of cable, {DuctFill.MostCables:N0} cables, {CalculationLimits.MostCableKinds} asked about.",
        Units = "mm, %.",
        Answer = CalculateDuctFill.Answer,
    };
}
