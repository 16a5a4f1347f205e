using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Service.Calculations.Mapping;

namespace FleetLight.Service.Calculations;

/// <summary>What force pulls a cable in.</summary>
internal static class DuctPullCalculation
{
    public static readonly Calculation<DuctPullRequest, DuctPullAnswer> Calculation = new()
    {
        Name = "duct-pull",
        Summary = "What force pulls a cable in",
        Description =
            "A straight adds 9.81 m/s² × length × mass per metre × friction; a bend multiplies by e to the power of friction × angle in radians "
            + "(the capstan relation). The permitted pull is 50 N for each mm² of copper. By hand, example one-bend: 60 m at 0.15 kg/m and "
            + "friction 0.5 take 9.81 × 60 × 0.15 × 0.5 = 44.1 N; a bend of 90° makes it × e^(0.5 × π/2) = × 2.193 = 96.8 N; 20 m more add "
            + "14.7 N: 111.5 N, which is 74 % of 50 × 3 mm² = 150 N.",
        Limits = $"{CalculationLimits.MostStretches:N0} stretches.",
        Units = "N, N/m, degrees, %.",
        Run = Run,
    };

    private static Calculated<DuctPullAnswer> Run(DuctPullRequest request)
    {
        var pulled = DuctPull.Along(
            [.. request.Route.Select(Stretch)],
            request.KilogramsPerMetre,
            request.CopperSquareMillimetres,
            request.Friction ?? DuctPull.DefaultFriction,
            request.StartNewtons ?? 0);
        if (pulled.Value is not { } pull) return Refusals.ProblemOf(pulled.Refusal!, pulled.Refusal!.Field);
        return new DuctPullAnswer
        {
            ModelVersion = Expected.ModelVersion,
            ForceNewtons = pull.ForceNewtons,
            PermittedNewtons = pull.PermittedNewtons,
            PercentOfPermitted = pull.PercentOfPermitted,
            SidewallNewtonsPerMetre = pull.SidewallNewtonsPerMetre,
            BendsDegrees = pull.BendsDegrees,
        };
    }

    private static DuctStretch Stretch(StretchInput stretch) =>
        new(stretch.LengthMetres, stretch.BendDegrees ?? 0, stretch.BendRadiusMetres ?? 0);
}
