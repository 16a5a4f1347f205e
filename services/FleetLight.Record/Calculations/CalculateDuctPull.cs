using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Calculations.Mapping;
using FleetLight.Record.Files;

namespace FleetLight.Record.Calculations;

/// <summary>What force pulls a cable in.</summary>
public static class CalculateDuctPull
{
    /// <summary>The answer, or what is wrong with the request.</summary>
    /// <param name="request">What is asked, as <see cref="Checks.RequestCheck"/> finds it sound.</param>
    public static Calculated<DuctPullAnswer> Answer(DuctPullRequest request)
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
