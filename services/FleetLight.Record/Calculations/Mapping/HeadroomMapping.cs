using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Electrics;
using FleetLight.Record.Files;
using HeadroomAnswer = FleetLight.Contracts.Calculations.Answers.HeadroomAnswer;

namespace FleetLight.Record.Calculations.Mapping;

/// <summary>Questions of adding fittings as the electrics take them, and their answers.</summary>
internal static class HeadroomMapping
{
    /// <summary>The question.</summary>
    public static HeadroomQuestion Question(HeadroomRequest request) => new(
        CircuitMapping.Model(request.Circuit), [.. request.Add.Select(CircuitMapping.Fitting)], Where(request.Where))
    {
        SpareCores = [.. (request.SpareCores ?? []).Select(spare => new SpareCores(spare.RunId, spare.Count))],
    };

    /// <summary>What it is held against.</summary>
    public static HeadroomOptions Options(HeadroomLimitsInput? given)
    {
        var defaults = HeadroomOptions.Default;
        return given is null
            ? defaults
            : defaults with
            {
                MarginPercent = given.MarginPercent ?? defaults.MarginPercent,
                MostDropPercent = given.MostDropPercent ?? defaults.MostDropPercent,
                RunClass = given.RunClass ?? defaults.RunClass,
                CatalogueWatts = [.. given.CatalogueWatts ?? []],
                MostProposals = given.MostProposals ?? defaults.MostProposals,
                Costs = Costs(given.Costs, defaults.Costs),
            };
    }

    /// <summary>The answer.</summary>
    public static HeadroomAnswer Answer(Electrics.HeadroomAnswer found) => new()
    {
        ModelVersion = found.ModelVersion,
        May = WireWord.Of<MayBeAdded, MayAdd>(found.May),
        Text = found.Text,
        Caution = found.Caution,
        Reasons = Reasons(found.Reasons),
        Before = Left(found.Before),
        After = Left(found.After),
        Expected = found.Readings is { } readings ? FigureMapping.Figures(readings, partBudgets: false) with { Remarks = [] } : null,
        Fittings =
        [
            .. found.Fittings.Select(fitting => new FittingThen
            {
                FittingId = fitting.FittingId,
                IsNew = fitting.IsNew,
                VoltsDc = FigureMapping.Plain(fitting.VoltsDc),
                LeastVolts = fitting.LeastVolts,
                DropPercent = fitting.DropPercent,
            }),
        ],
        Touch = FigureMapping.Touch(found.Touch),
        LongestRuns =
        [
            .. found.LongestRuns.Select(run => new LongestRunAnswer
            {
                AreaSquareMillimetres = run.AreaSquareMillimetres,
                LengthMetres = run.LengthMetres,
                EndedBy = run.EndedBy is { } limit ? WireWord.Of<HeadroomLimit, AddingLimit>(limit) : null,
            }),
        ],
        Proposals = [.. found.Proposals.Select(Proposed)],
    };

    private static AddedWhere Where(WhereInput where) => new(where.Place)
    {
        SpareRunIds = [.. where.SpareRunIds ?? []],
        Run = where.NewRun is { } run
            ? new NewRun(run.LengthMetres, run.AreaSquareMillimetres, run.ConductorClass)
            {
                SpacingMetres = run.SpacingMetres ?? 0,
                LengthTolerancePercent = run.LengthTolerancePercent ?? CircuitMapping.DefaultTolerancePercent,
                Surroundings = run.Surroundings ?? RunSurroundings.Buried,
            }
            : null,
    };

    private static ChangeCosts Costs(CostsInput? given, ChangeCosts defaults) => given is null
        ? defaults
        : new ChangeCosts
        {
            OtherWatts = given.OtherWatts ?? defaults.OtherWatts,
            LargerNewRunPerStep = given.LargerNewRunPerStep ?? defaults.LargerNewRunPerStep,
            NearerNode = given.NearerNode ?? defaults.NearerNode,
            SpareCoresInParallel = given.SpareCoresInParallel ?? defaults.SpareCoresInParallel,
            FewerFittingsEach = given.FewerFittingsEach ?? defaults.FewerFittingsEach,
            LargerDriver = given.LargerDriver ?? defaults.LargerDriver,
            LargerExistingRun = given.LargerExistingRun ?? defaults.LargerExistingRun,
            LargerExistingRunPerStep = given.LargerExistingRunPerStep ?? defaults.LargerExistingRunPerStep,
        };

    private static HeadroomReasonAnswer[] Reasons(ImmutableArray<HeadroomReason> reasons) =>
    [
        .. reasons.Select(reason => new HeadroomReasonAnswer
        {
            Limit = WireWord.Of<HeadroomLimit, AddingLimit>(reason.Limit),
            Refuses = reason.Refuses,
            AlreadySo = reason.AlreadySo,
            Place = reason.Place,
            Text = reason.Text,
            Value = reason.Value,
            LimitValue = reason.LimitValue,
            Unit = reason.Unit.Length > 0 ? reason.Unit : null,
            Source = reason.Source,
        }),
    ];

    private static DriverLeft? Left(DriverHeadroom? left) => left is null
        ? null
        : new DriverLeft
        {
            VoltsDc = left.VoltsDc,
            Watts = left.Watts,
            Amps = left.Amps,
            VoltsDcAtHigh = left.VoltsDcAtHigh95,
            WattsAtHigh = left.WattsAtHigh95,
            AmpsAtHigh = left.AmpsAtHigh95,
            VoltsDcAboveLeast = left.VoltsDcAboveLeast,
        };

    private static ProposalAnswer Proposed(Proposal proposal) => new()
    {
        Steps = [.. proposal.Steps.Select(Step)],
        Cost = proposal.Cost,
        May = WireWord.Of<MayBeAdded, MayAdd>(proposal.May),
        Text = proposal.Text,
        Reasons = Reasons(proposal.Reasons),
        After = Left(proposal.After),
    };

    private static ProposalStep Step(ProposedStep step) => new()
    {
        Kind = WireWord.Of<StepKind, AddingStep>(step.Kind),
        Text = step.Text,
        Watts = step.Watts,
        AreaSquareMillimetres = step.AreaSquareMillimetres,
        RunId = step.RunId,
        Place = step.Node,
        FittingsLeft = step.FittingsLeft,
        Driver = step.Driver is { } driver
            ? new DriverNeeds
            {
                MostVolts = driver.MostVolts,
                MostWatts = driver.MostWatts,
                MostAmps = driver.MostAmps,
                LeastVolts = driver.LeastVolts,
            }
            : null,
    };
}
