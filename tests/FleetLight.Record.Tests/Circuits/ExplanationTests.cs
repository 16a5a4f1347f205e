using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>
/// What the state says of the cause, and of what to measure next. The circuits: two or six fittings of 1.6 W in a loop of 350 mA,
/// which should read about 9.1 V for each two (common practice, no source).
/// </summary>
public sealed class ExplanationTests
{
    private const double Good = 9.15;

    [Fact]
    public void A_sound_circuit_needs_no_explanation_and_no_further_reading()
    {
        var circuit = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Good)).Circuit;

        Assert.Empty(circuit.Explanations);
        Assert.Empty(circuit.NextReadings);
        Assert.Null(circuit.EnoughMeasured);
    }

    [Fact]
    public void Half_the_volts_are_one_fitting_not_taking_any_and_the_state_says_that_it_cannot_tell_which()
    {
        var circuit = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Good / 2)).Circuit;

        Assert.Contains(circuit.Explanations[0].Fault, (string[])["fitting-shorted", "fitting-missing", "fitting-reversed"]);
        Assert.NotEmpty(circuit.CannotTellApart);
        var alike = circuit.Explanations.Where(one => one.Group == circuit.Explanations[0].Group).ToList();
        Assert.True(alike.Count > 1, "one group of several");
    }

    [Fact]
    public void The_next_reading_says_where_what_why_and_what_to_mind()
    {
        var circuit = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Good / 2)).Circuit;

        var next = circuit.NextReadings[0];
        Assert.NotEmpty(next.Places);
        Assert.True(next is { Minutes: > 0, Bits: > 0 });
        Assert.NotEmpty(next.WouldRead);
        Assert.NotEmpty(next.Caution);
    }

    [Fact]
    public void A_fitting_that_was_seen_dark_is_explained_though_no_reading_was_taken()
    {
        var circuit = Job.Of(CircuitFacts.Designed(), CircuitFacts.Energised(unlit: ["F2"])).Circuit;

        Assert.Equal(CircuitVerdict.Unread, circuit.Verdict);
        Assert.NotEmpty(circuit.Explanations);
        Assert.NotEqual("as-designed", circuit.Explanations[0].Fault);
        Assert.Contains("F2", circuit.Explanations[0].At);
    }

    [Fact]
    public void What_was_seen_lit_settles_which_fitting_it_is()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(), CircuitFacts.Energised(unlit: ["F2"]), CircuitFacts.Reading(Good / 2)).Circuit;

        Assert.All(
            circuit.Explanations.Where(one => one.Likelihood > 0.05 && one.At.Any(at => at.StartsWith('F'))),
            one => Assert.Equal(["F2"], one.At.Where(at => at.StartsWith('F'))));
    }

    [Fact]
    public void What_was_seen_before_a_repair_no_longer_counts()
    {
        var job = Job.Of(CircuitFacts.Designed(), CircuitFacts.Energised(unlit: ["F2"]));

        job.Tells(CircuitFacts.Repair());

        Assert.Null(job.Works.BasisOf(Facts.Circuit).Dark);
        Assert.Empty(job.Circuit.Explanations);
    }

    [Fact]
    public void Nobody_looked_where_no_list_was_given()
    {
        var basis = Job.Of(CircuitFacts.Designed(), CircuitFacts.Energised()).Works.BasisOf(Facts.Circuit);

        Assert.Null(basis.LookedAt);
        Assert.Null(basis.Dark);
    }

    [Fact]
    public void Low_insulation_of_the_output_side_leads_to_water()
    {
        // Two thirds of the volts and 2 kΩ between the cores go together where water leads past the second fitting.
        var dry = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(8.6)).Circuit;
        var wet = Job.Of(
            CircuitFacts.Designed(), CircuitFacts.Insulation(0.002, nominal: 24, testVolts: 250, mainsSide: false), CircuitFacts.Reading(8.6)).Circuit;

        Assert.True(LikelihoodOf(wet, "water-in-joint") > LikelihoodOf(dry, "water-in-joint"));
    }

    [Fact]
    public void The_wattages_that_the_crews_carry_are_looked_for()
    {
        // Two fittings of 1.6 W and one of 2.4 W in place of one of them: 0.8 W more at 350 mA is 2.3 V more.
        var job = Job.Of(CircuitFacts.Designed());
        job.Works.Judging = new Judging(1, new JudgingSettings { CatalogueWatts = [1.6, 2.4] });
        job.Tells(CircuitFacts.Connected(), CircuitFacts.Reading(Good + (0.8 / 0.35)));

        Assert.Equal("fitting-of-other-wattage", job.Circuit.Explanations[0].Fault);
        Assert.Contains("2.40 W", job.Circuit.Explanations[0].Says, StringComparison.Ordinal);
    }

    [Fact]
    public void A_box_in_the_ground_is_dug_out_last()
    {
        FittingDesign[] fittings = [.. Enumerable.Range(1, 6).Select(i => CircuitFacts.Fitting($"F{i}"))];
        RunDesign[] runs =
        [
            CircuitFacts.Run("R1", "driver", "B1"), CircuitFacts.Run("R2", "B1", "F1"),
            .. Enumerable.Range(1, 5).Select(i => CircuitFacts.Run($"R{i + 2}", $"F{i}", $"F{i + 1}")),
        ];
        var circuit = Job.Of(
            CircuitFacts.Designed(fittings: fittings, runs: runs, driver: CircuitFacts.Driver(most: 60, open: 65)),
            CircuitFacts.Reading(64.5)).Circuit;

        Assert.DoesNotContain("B1", circuit.NextReadings[0].Places);
        Assert.All(circuit.NextReadings, next => Assert.NotEqual(MeasuredAs.MegohmsInsulation, next.Quantity));
    }

    [Fact]
    public void The_alert_of_a_reading_outside_names_the_likeliest_cause()
    {
        var finding = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Good / 2)).Circuit.Findings
            .Single(one => one.Rule == "reading-outside");

        Assert.Contains("Most likely:", finding.Reason, StringComparison.Ordinal);
    }

    private static double LikelihoodOf(CircuitView circuit, string fault) =>
        circuit.Explanations.Where(one => one.Fault == fault).Sum(one => one.Likelihood);
}
