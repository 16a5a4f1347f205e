using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>What an organisation states of its own: what measuring takes its crews, and how common faults are.</summary>
public sealed class SettingsTests
{
    // Nothing flows: the loop of six is open somewhere, and volts to the box, or to a fitting, part the places.
    private static readonly CircuitDesigned Design = CircuitFacts.Designed(
        driver: CircuitFacts.Driver(most: 60, open: 65),
        fittings: [.. Enumerable.Range(1, 6).Select(i => CircuitFacts.Fitting($"F{i}"))],
        runs:
        [
            CircuitFacts.Run("R1", "driver", "F1"), CircuitFacts.Run("R2", "F1", "F2"), CircuitFacts.Run("R3", "F2", "F3"),
            CircuitFacts.Run("R4", "F3", Facts.Box), CircuitFacts.Run("R5", Facts.Box, "F4"), CircuitFacts.Run("R6", "F4", "F5"),
            CircuitFacts.Run("R7", "F5", "F6"),
        ]);

    [Theory]
    [InlineData(BoxLie.FlatInGround, ReachOfPlace.NeedsDigging)]
    [InlineData(BoxLie.OnSpike, ReachOfPlace.OpenToReach)]
    [InlineData(BoxLie.OnWall, ReachOfPlace.OpenToReach)]
    public void How_a_box_lies_says_what_it_takes_to_reach_it(BoxLie lie, ReachOfPlace access)
    {
        var places = CircuitModels.Of(Job.Of(Design, Facts.BoxSealed(lie: lie)).Works.BasisOf(Facts.Circuit)).Places!;

        Assert.Equal(access, places.Single(place => place.Place == Facts.Box).Access);
    }

    [Fact]
    public void A_buried_box_costs_what_the_organisation_says_digging_takes()
    {
        var dear = AtBox(null);
        var cheap = AtBox(new EffortInput { DigMinutes = 1, WalkMinutes = 0.5, VoltsMinutes = 0.5 });

        // By the stated defaults 2 to walk, 40 to dig out and 1 to read; by the settings 0.5, 1 and 0.5.
        Assert.True(dear is null or 43, $"{dear}");
        Assert.Equal(2, cheap);
    }

    [Fact]
    public void A_box_at_the_surface_does_not_cost_the_digging() => Assert.Equal(
        8,
        AtBox(new EffortInput { DigMinutes = 1000, OpenBoxMinutes = 5 }, BoxLie.OnWall));

    [Fact]
    public void How_common_faults_are_is_the_organisations_to_say()
    {
        var usual = Explained(null);
        var without = Explained([new PriorInput { Fault = KindOfFault.FittingShorted, Prior = 0 }]);
        var often = Explained([new PriorInput { Fault = KindOfFault.FittingMissing, Prior = 0.9 }]);

        Assert.Contains(usual, one => one.Fault == "fitting-shorted");
        Assert.DoesNotContain(without, one => one.Fault == "fitting-shorted");
        Assert.True(Share(often, "fitting-missing") > Share(usual, "fitting-missing"));
        Assert.Equal("fitting-missing", often[0].Fault);
    }

    [Fact]
    public void What_is_set_is_checked()
    {
        Assert.Empty(RequestCheck.Check(new JudgingSettings { Effort = new EffortInput { DigMinutes = 25 } }));
        Assert.Equal("effort.digMinutes", Wrong(new JudgingSettings { Effort = new EffortInput { DigMinutes = 20_000 } }));
        Assert.Equal("priors[0].prior", Wrong(Priors((KindOfFault.OpenLoop, 1.5))));
        Assert.Equal("priors[1].fault", Wrong(Priors((KindOfFault.OpenLoop, 0.1), (KindOfFault.OpenLoop, 0.2))));
        Assert.Equal("priors[0].prior", Wrong(Priors((KindOfFault.AsDesigned, 0))));
        Assert.Equal("priors", Wrong(new JudgingSettings { Priors = [] }));
        Assert.Equal("stopAtPercent", Wrong(new JudgingSettings { StopAtPercent = 50 }));
    }

    private static JudgingSettings Priors(params (KindOfFault Fault, double Prior)[] priors) => new()
    {
        Priors = [.. priors.Select(each => new PriorInput { Fault = each.Fault, Prior = each.Prior })],
    };

    private static string Wrong(JudgingSettings settings) => Assert.Single(RequestCheck.Check(settings)).Field;

    private static double? AtBox(EffortInput? effort, BoxLie lie = BoxLie.FlatInGround)
    {
        var job = new Job();
        job.Works.Judging = new(1, new JudgingSettings { Effort = effort });
        job.Tells(Design, Facts.BoxSealed(lie: lie), CircuitFacts.Reading(64.5));
        return job.Circuit.NextReadings.FirstOrDefault(next => next.Places.Contains(Facts.Box) && next.Quantity == MeasuredAs.VoltsDc)?.Minutes;
    }

    private static IReadOnlyList<ExplanationView> Explained(PriorInput[]? priors)
    {
        var job = new Job();
        job.Works.Judging = new(1, new JudgingSettings { Priors = priors });
        // One of two fittings of 4.6 V takes none.
        return job.Tells(CircuitFacts.Designed(), CircuitFacts.Reading(4.6)).Circuit.Explanations;
    }

    private static double Share(IReadOnlyList<ExplanationView> explanations, string fault) =>
        explanations.Where(one => one.Fault == fault).Sum(one => one.Likelihood);
}
