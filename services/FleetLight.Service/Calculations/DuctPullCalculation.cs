using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;

namespace FleetLight.Service.Calculations;

/// <summary>What force pulls a cable in.</summary>
internal static class DuctPullCalculation
{
    public static readonly Calculation<DuctPullRequest, DuctPullAnswer> Calculation = new()
    {
        Name = "duct-pull",
        Summary = "What force pulls a cable in, and from which end to pull",
        Description =
            "A straight adds 9.81 m/s² × length × mass per metre × friction; a bend multiplies by e to the power of friction × angle in radians "
            + "(the capstan relation). By hand, example one-bend: from the end of the route, 60 m at 0.15 kg/m and friction 0.5 take "
            + "9.81 × 60 × 0.15 × 0.5 = 44.1 N; a bend of 90° makes it × e^(0.5 × π/2) = × 2.193 = 96.8 N; 20 m more add 14.7 N: 111.5 N. From its "
            + "beginning 14.7 N × 2.193 + 44.1 N = 76.4 N. Permitted are 50 N/mm² × 3 mm² = 150 N.",
        Limits = $"{CalculationLimits.MostStretches:N0} stretches.",
        Units = "N, N/m, degrees, %.",
        Answer = CalculateDuctPull.Answer,
    };
}
