using FleetLight.Contracts;

namespace FleetLight.Electrics.Tests.HeadroomAndChange;

/// <summary>The smallest change that makes it possible.</summary>
public class ChangeTests
{
    /// <summary>
    /// Ten fittings of 3.0 V at 350 mA and a driver of 24 V: leave out two of the added four (8 × 3 = 24 V), or a
    /// driver of 30 V with 10 % of margin, 33.4 V. Common rule of series circuits, worked by hand.
    /// </summary>
    [Fact]
    public void A_driver_with_too_few_volts()
    {
        var answer = Asked.Answer(Series(24, 6, 4), new HeadroomOptions { CatalogueWatts = [0.7, 0.5] }, Some.Bare);
        Assert.Equal(MayBeAdded.No, answer.May);
        var step = Assert.Single(answer.Proposals.First(p => p.Steps.Any(s => s.Kind == StepKind.LargerDriver)).Steps);
        Assert.Equal(33.4, step.Driver!.MostVolts!.Value, 1e-9);
        var fewer = answer.Proposals.Single(p => p.Steps is [{ Kind: StepKind.FewerFittings }]);
        Assert.Equal(2, fewer.Steps[0].FittingsLeft);
        // Four of 0.5 W make 18 + 5.714 = 23.71 V; four of 0.7 W would make 26 V.
        Assert.Equal(StepKind.OtherWatts, answer.Proposals[0].Steps[0].Kind);
        Assert.Equal(0.5, answer.Proposals[0].Steps[0].Watts);
        Assert.Equal(answer.Proposals.Select(p => p.Cost).Order(), answer.Proposals.Select(p => p.Cost));
    }

    /// <summary>
    /// 20 W on 80 m of 1.5 mm² class 5 drops 2.128 Ω × 0.9 A, near 8 %; 2.5 mm² (1.2768 Ω) drops below 5 %.
    /// </summary>
    [Fact]
    public void A_new_run_that_is_too_thin_is_laid_one_step_larger()
    {
        var answer = Asked.Answer(Tree(80, 1.5, 20), assumptions: Some.Bare);
        Assert.Equal(HeadroomLimit.VoltageDrop, answer.Reasons[0].Limit);
        var first = answer.Proposals[0];
        Assert.Equal((StepKind.LargerNewRun, 2.5), (first.Steps[0].Kind, first.Steps[0].AreaSquareMillimetres));
        Assert.Equal("Lay the new run in 2.50 mm².", first.Text);
    }

    /// <summary>
    /// Too thin a run and too small a driver: neither step alone suffices, so the two stand together in one proposal.
    /// </summary>
    [Fact]
    public void Two_faults_take_two_steps()
    {
        var question = Tree(80, 1.5, 20);
        question = question with
        {
            Circuit = question.Circuit with { Driver = question.Circuit.Driver with { MostAmps = 0.5 } },
        };
        var answer = Asked.Answer(question, assumptions: Some.Bare);
        var first = answer.Proposals[0];
        Assert.Equal([StepKind.LargerNewRun, StepKind.LargerDriver], first.Steps.Select(s => s.Kind));
        Assert.DoesNotContain(answer.Proposals, p => p.Steps.Length == 1);
        // 20 W behind 1.2768 Ω takes (24 − √(24² − 4·1.2768·20)) / (2·1.2768) = 0.8740 A; with the margin 0.98 A.
        Assert.Equal(1.0, first.Steps[1].Driver!.MostAmps!.Value, 1e-9);
    }

    [Fact]
    public void A_nearer_node_is_proposed_where_the_way_drops_too_much()
    {
        var circuit = new CircuitModel(
            DriveKind.ConstantVoltage, new DriverModel { RatedVolts = 24, MostAmps = 5 },
            [new("a", 2)], [Some.Run("driver", "a", 40), Some.Run("a", "box", 60)]);
        var question = new HeadroomQuestion(circuit, Asked.Fittings(1, 20), new AddedWhere("box"))
        {
            SpareCores = [new SpareCores("a-box", 2)],
        };
        var answer = Asked.Answer(question);
        Assert.Equal(MayBeAdded.No, answer.May);
        Assert.Contains(answer.Proposals, p => p.Steps is [{ Kind: StepKind.NearerNode, Node: "a" }]);
        Assert.Contains(answer.Proposals, p => p.Steps is [{ Kind: StepKind.SpareCoresInParallel, RunId: "a-box" }]);
        Assert.Contains(answer.Proposals, p => p.Steps is [{ Kind: StepKind.LargerExistingRun }]);
    }

    [Fact]
    public void Nothing_is_looked_for_where_it_is_possible_or_not_wanted()
    {
        Assert.Empty(Asked.Answer(Series(48, 6, 4)).Proposals);
        Assert.Empty(Asked.Answer(Series(24, 6, 4), new HeadroomOptions { MostProposals = 0 }).Proposals);
        Assert.Empty(Asked.Answer(Series(48, 6, 4), new HeadroomOptions { WithLongestRuns = false }).LongestRuns);
    }

    [Fact]
    public void The_costs_decide_the_order()
    {
        var dear = new HeadroomOptions { Costs = new ChangeCosts { LargerDriver = 0, FewerFittingsEach = 100 } };
        Assert.Equal(StepKind.LargerDriver, Asked.Answer(Series(24, 6, 4), dear).Proposals[0].Steps[0].Kind);
        var cheap = new HeadroomOptions { Costs = new ChangeCosts { LargerDriver = 100, FewerFittingsEach = 0 } };
        Assert.Equal(StepKind.FewerFittings, Asked.Answer(Series(24, 6, 4), cheap).Proposals[0].Steps[0].Kind);
    }

    private static HeadroomQuestion Series(double most, int there, int more) => new(
        Asked.Exact(Some.Series([.. Enumerable.Repeat(1.05, there)]) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, MostVolts = most },
        }),
        Asked.Fittings(more, 1.05, 0), new AddedWhere("driver"));

    private static HeadroomQuestion Tree(double metres, double area, double watts) => new(
        new CircuitModel(
            DriveKind.ConstantVoltage,
            new DriverModel { RatedVolts = 24, MostAmps = 5, OutputTolerancePercent = 0 }, [], []),
        Asked.Fittings(1, watts, 0), new AddedWhere("driver") { Run = Asked.Run(metres, area) });
}
