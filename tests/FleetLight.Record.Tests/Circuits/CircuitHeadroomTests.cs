using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;
using FleetLight.Record.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>Whether fittings may be added to a recorded circuit, over cores that are recorded as spare.</summary>
public sealed class CircuitHeadroomTests
{
    private static readonly CircuitDesigned Design = CircuitFacts.Designed(
        driver: CircuitFacts.Driver(least: 3, most: 24, watts: 20),
        fittings: [CircuitFacts.Fitting("F1", 1.05), CircuitFacts.Fitting("F2", 1.05)],
        runs: [CircuitFacts.Run("R1", "driver", "F1", cableId: Facts.Cable)]);

    [Fact]
    public void One_more_over_the_spare_cores_reads_what_it_does_by_hand()
    {
        var answer = Ask(Job.Of(Design, Pulled())).Answer!;

        // IEC 60228 class 5, 1.5 mm²: 13.3 Ω/km at 20 °C, so 0.266 Ω out and back over 10 m. Assumed are 15 °C (IEC 60028:
        // 0.00393 per kelvin) and the middle of the span of 7 % below the maximum; 1.05 W / 0.35 A = 3 V.
        var ohms = 0.266 * (1 - (5 * 0.00393)) * (1 - 0.035);
        Assert.Equal((3 * 3) + (2 * ohms * 0.35), answer.Expected!.DriverVoltsDc.Value, 0.001);
        Assert.Equal(9.176, answer.Expected.DriverVoltsDc.Value, 0.001);
        Assert.Equal(MayAdd.Yes, answer.May);
        Assert.Equal(24 - answer.Expected.DriverVoltsDc.Value, answer.After!.VoltsDc!.Value, 0.001);
    }

    [Fact]
    public void The_answer_is_that_of_the_calculation()
    {
        var job = Job.Of(Design, Pulled());
        var model = CircuitModels.Of(job.Works.BasisOf(Facts.Circuit));
        var calculated = CalculateHeadroom.Answer(new HeadroomRequest
        {
            Circuit = model.Circuit!,
            Assumptions = model.Assumptions,
            Add = [Added],
            Where = new WhereInput { Place = "driver", SpareRunIds = ["R1"] },
            SpareCores = [new SpareCoresInput { RunId = "R1", Count = 2 }],
        }).Answer!;

        var answer = Ask(job).Answer!;

        Assert.Equal((calculated.May, calculated.Text), (answer.May, answer.Text));
        Assert.Equal(calculated.Expected!.DriverVoltsDc.Low, answer.Expected!.DriverVoltsDc.Low);
        Assert.Equal(calculated.LongestRuns, answer.LongestRuns);
    }

    [Fact]
    public void A_core_that_carries_another_circuit_is_not_spare()
    {
        var answer = Ask(Job.Of(Design, Pulled(Facts.Core("grey", "circuit-9"))), "black", "grey").Answer!;

        Assert.Equal(MayAdd.No, answer.May);
        var reason = Assert.Single(answer.Reasons, reason => reason.Limit == AddingLimit.SpareCores);
        Assert.True(reason.Refuses);
        Assert.Equal(1, reason.Value);
        Assert.Equal(
            "Of cable cable-1, which makes run R1, core 'grey' carries circuit circuit-9; 2 spare cores are needed, out and back.", reason.Text);
        Assert.Contains(reason.Text, answer.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_core_that_protects_is_not_spare() => AssertTaken(
        Job.Of(Design, Pulled(Facts.Core("grey", null, CoreUse.ProtectiveEarth))), "core 'grey' is the protective conductor");

    [Fact]
    public void A_core_that_was_joined_since_is_not_spare() => AssertTaken(
        Job.Of(Design, Pulled(), Facts.JointMade(connectors: [Facts.Connector(Facts.Held("grey"), Facts.Lead("F7"))])),
        "core 'grey' is held by joint joint-1 in box box-1");

    [Fact]
    public void A_core_that_is_only_parked_in_a_connector_stays_spare() => Assert.Equal(
        MayAdd.Yes,
        Ask(Job.Of(Design, Pulled(), Facts.JointMade(connectors: [Facts.Connector(Facts.Held("grey"))])), "black", "grey").Answer!.May);

    [Fact]
    public void Without_names_of_cores_the_cables_spare_ones_count()
    {
        Assert.Equal(MayAdd.Yes, Ask(Job.Of(Design, Pulled())).Answer!.May);
        Assert.Equal(MayAdd.No, Ask(Job.Of(Design, Pulled(Facts.Core("grey")))).Answer!.May);
    }

    [Fact]
    public void Of_a_cable_that_is_not_pulled_nothing_is_known()
    {
        var answer = Ask(Job.Of(Design)).Answer!;

        Assert.Equal(MayAdd.YesBut, answer.May);
        Assert.Contains("not recorded", Assert.Single(answer.Reasons, reason => reason.Limit == AddingLimit.SpareCores).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Cores_recorded_under_an_id_that_means_the_same_cable_count() => AssertTaken(
        Job.Of(
            Design, Pulled(Facts.Core("grey", "circuit-9")) with { CableId = "cable-x" }, Facts.Joined(ThingKind.Cable, "cable-x", Facts.Cable)),
        "core 'grey' carries circuit circuit-9");

    [Theory]
    [InlineData("black", "pink", "where.spare[0].cores[1]", "no core 'pink'")]
    [InlineData("black", "black", "where.spare[0].cores[1]", "named twice")]
    public void A_core_that_the_cable_has_not_is_named(string one, string other, string field, string says)
    {
        var problem = Ask(Job.Of(Design, Pulled()), one, other).Problem!;

        Assert.Equal(field, problem.Field);
        Assert.Contains(says, problem.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public void A_run_and_a_place_that_the_circuit_has_not_are_named()
    {
        var job = Job.Of(Design, Pulled());

        Assert.Equal("where.spare[0].runId", Ask(job, where: new() { Place = "driver", Spare = [new() { RunId = "R9" }] }).Problem!.Field);
        Assert.Equal("where.place", Ask(job, where: new() { Place = "B9" }).Problem!.Field);
    }

    [Fact]
    public void What_the_record_lacks_is_said_of_the_circuit()
    {
        Assert.Equal(CircuitHeadroom.Circuit, Ask(Job.Of(CircuitFacts.Reading(9))).Problem!.Field);
        Assert.StartsWith(
            CircuitHeadroom.Circuit,
            Ask(Job.Of(CircuitFacts.Designed(runs: [CircuitFacts.Run("R1", "driver", "F1", area: 0.6)]))).Problem!.Field,
            StringComparison.Ordinal);
    }

    [Fact]
    public void The_settings_of_the_organisation_count()
    {
        var job = new Job();
        job.Works.Judging = new(1, new JudgingSettings { BuriedCelsius = 60, CatalogueWatts = [0.5] });
        job.Tells(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 9.5), fittings: Design.Fittings, runs: Design.Runs), Pulled());

        var answer = Ask(job).Answer!;

        Assert.Equal(9 + (2 * 0.266 * (1 + (40 * 0.00393)) * (1 - 0.035) * 0.35), answer.Expected!.DriverVoltsDc.Value, 0.001);
        Assert.Contains(answer.Proposals, proposal => proposal.Steps.Any(step => step.Watts == 0.5));
    }

    private static FittingInput Added => new() { FittingId = "F3", RatedWatts = 1.05 };

    private static CablePulled Pulled(CoreAssignment? third = null) => Facts.CablePulled(
        length: 10,
        cores: [Facts.Core("brown"), Facts.Core("blue"), Facts.Core("black", null), third ?? Facts.Core("grey", null)]);

    private static Calculated<HeadroomAnswer> Ask(Job job, string? one = null, string? other = null, RecordedWhereInput? where = null)
    {
        var asked = new CircuitHeadroomRequest
        {
            Add = [Added],
            Where = where ?? new()
            {
                Place = "driver",
                Spare = [new() { RunId = "R1", Cores = one is null ? null : [one, other!] }],
            },
        };
        Assert.Empty(RequestCheck.Check(asked));
        return CircuitHeadroom.Answer(job.Works.BasisOf(Facts.Circuit), WorksFold.RunCables(job.Works.InMemory, Facts.Circuit), asked);
    }

    private static void AssertTaken(Job job, string says)
    {
        var answer = Ask(job, "black", "grey").Answer!;

        Assert.Equal(MayAdd.No, answer.May);
        Assert.Contains(says, answer.Text, StringComparison.Ordinal);
    }
}
