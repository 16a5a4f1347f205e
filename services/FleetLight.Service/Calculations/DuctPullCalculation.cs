using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;
using FleetLight.Service.Calculations.Mapping;

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
        Run = Run,
    };

    private static Calculated<DuctPullAnswer> Run(DuctPullRequest request)
    {
        var planned = DuctPullPlan.Of(
            [.. request.Route.Select(Stretch)],
            Cable(request.Cable),
            request.Friction ?? DuctPull.DefaultFriction,
            request.StartNewtons ?? 0,
            request.MostSidewallNewtonsPerMetre ?? DuctPullPlan.StrictSidewallNewtonsPerMetre);
        return planned.Value is { } plan ? Answer(plan) : Refusals.ProblemOf(planned.Refusal!, FieldOf(planned.Refusal!.Field));
    }

    private static DuctPullAnswer Answer(DuctPullPlan plan) => new()
    {
        ModelVersion = Expected.ModelVersion,
        Better = WireWord.Of<PullFrom, PullingEnd>(plan.Better),
        IsWithin = plan.IsWithin,
        Text = plan.Text,
        FromRouteEnd = Pull(plan.FromRouteEnd),
        FromRouteBeginning = Pull(plan.FromRouteBeginning),
        PermittedNewtons = plan.Limit.Newtons,
        Source = plan.Limit.Source,
        MostSidewallNewtonsPerMetre = plan.MostSidewallNewtonsPerMetre,
        BendsDegrees = plan.FromRouteEnd.BendsDegrees,
    };

    private static PullAnswer Pull(DuctPullResult pull) => new()
    {
        ForceNewtons = pull.ForceNewtons,
        PercentOfPermitted = pull.PercentOfPermitted,
        SidewallNewtonsPerMetre = pull.SidewallNewtonsPerMetre,
    };

    private static DuctStretch Stretch(StretchInput stretch) =>
        new(stretch.LengthMetres, stretch.BendDegrees ?? 0, stretch.BendRadiusMetres ?? 0);

    private static PulledCable Cable(PulledInput cable) => new(cable.KilogramsPerMetre, cable.CopperSquareMillimetres)
    {
        Rule = WireWord.Of<PermittedPull, PullRule>(cable.Rule ?? PermittedPull.FiftyNewtons),
        Grip = WireWord.Of<RopeGrip, PullGrip>(cable.Grip ?? RopeGrip.Eye),
        Armour = WireWord.Of<CableArmour, PullArmour>(cable.Armour ?? CableArmour.None),
        OutsideMillimetres = cable.OutsideDiameterMillimetres,
    };

    private static string FieldOf(string part) =>
        part.Replace("outsideMillimetres", "outsideDiameterMillimetres", StringComparison.Ordinal);
}
