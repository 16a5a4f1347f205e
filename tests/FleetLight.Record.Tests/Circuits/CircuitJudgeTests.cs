using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>
/// The verdict on the latest visit's readings. The circuit should read about 9.1 V (common practice, no source).
/// </summary>
public sealed class CircuitJudgeTests
{
    private const double Good = 9.15;
    private const double Bad = 11.86;

    [Fact]
    public void Without_a_reading_it_is_unread()
    {
        var circuit = Job.Of(CircuitFacts.Designed()).Circuit;

        Assert.Equal(CircuitVerdict.Unread, circuit.Verdict);
        Assert.Equal("No reading was taken yet.", circuit.VerdictWhy);
    }

    [Fact]
    public void Without_a_design_it_cannot_be_judged_and_is_judged_when_the_design_comes()
    {
        var job = Job.Of(CircuitFacts.Reading(Good));
        Assert.Equal(CircuitVerdict.CannotBeJudged, job.Circuit.Verdict);
        Assert.Equal(Facts.Site, job.Circuit.SiteId);

        // The design happened after the reading, and is the first: the circuit was so when it was read.
        job.Tells(CircuitFacts.Designed());

        Assert.Equal(CircuitVerdict.Within, job.Circuit.Verdict);
        Assert.Equal(["crew-a#f1"], job.Circuit.LastReadings.Select(reading => reading.Fact));
    }

    [Fact]
    public void The_newest_reading_at_a_place_speaks() =>
        Assert.Equal(
            CircuitVerdict.Within,
            Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Bad), CircuitFacts.Reading(Good)).Circuit.Verdict);

    [Fact]
    public void The_worst_place_of_a_visit_speaks_for_the_circuit()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(),
            CircuitFacts.Reading(Good),
            CircuitFacts.Reading(0.1, place: ReadingPlaceKind.Fitting, placeId: "F2"),
            CircuitFacts.Reading(350, ReadingQuantity.Milliamps)).Circuit;

        Assert.Equal(CircuitVerdict.Outside, circuit.Verdict);
        Assert.StartsWith("At fitting F2", circuit.VerdictWhy, StringComparison.Ordinal);
        Assert.NotEmpty(circuit.Explanations);
    }

    [Fact]
    public void Another_place_read_twelve_hours_before_belongs_to_an_earlier_visit()
    {
        var bad = CircuitFacts.Reading(0.1, place: ReadingPlaceKind.Fitting, placeId: "F2");
        var job = Job.Of(CircuitFacts.Designed(), bad).Waits(11.5).Tells(CircuitFacts.Reading(Good));
        Assert.Equal(CircuitVerdict.Outside, job.Circuit.Verdict);

        job.Waits(1).Tells(CircuitFacts.Reading(Good));

        Assert.Equal(CircuitVerdict.Within, job.Circuit.Verdict);
        Assert.Equal(3, job.Circuit.LastReadings.Count);
    }

    [Fact]
    public void A_reading_that_cannot_be_judged_gives_way_to_one_that_can()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(),
            CircuitFacts.Reading(Good),
            CircuitFacts.Reading(5, place: ReadingPlaceKind.Box, placeId: "box-1")).Circuit;

        Assert.Equal(CircuitVerdict.Within, circuit.Verdict);
        Assert.Equal(CircuitVerdict.CannotBeJudged, circuit.LastReadings[0].Verdict);
    }

    [Fact]
    public void Readings_from_before_a_repair_are_shown_and_do_not_count()
    {
        var circuit = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Bad), CircuitFacts.Repair()).Circuit;

        Assert.Equal(CircuitVerdict.Unread, circuit.Verdict);
        Assert.Contains("since the repair", circuit.VerdictWhy, StringComparison.Ordinal);
        Assert.Equal(CircuitVerdict.Outside, circuit.LastReadings[0].Verdict);
        Assert.Contains("before the repair", circuit.LastReadings[0].Why, StringComparison.Ordinal);
        Assert.Empty(circuit.Explanations);
    }

    [Fact]
    public void Readings_from_before_a_change_of_the_design_are_not_judged_by_it()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(), CircuitFacts.Reading(Good),
            CircuitFacts.Designed(fittings: [CircuitFacts.Fitting("F1", 8), CircuitFacts.Fitting("F2", 8)])).Circuit;

        Assert.Equal(CircuitVerdict.Unread, circuit.Verdict);
        Assert.Equal(CircuitVerdict.CannotBeJudged, circuit.LastReadings[0].Verdict);
    }

    [Fact]
    public void A_new_name_is_no_change_of_the_design() =>
        Assert.Equal(
            CircuitVerdict.Within,
            Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Good), CircuitFacts.Designed(name: "Steps")).Circuit.Verdict);

    [Fact]
    public void The_meters_own_accuracy_widens_what_is_within()
    {
        var poor = new Contracts.Facts.MeterAccuracy { PercentOfReading = 20, Digits = 5, Resolution = 0.1 };

        Assert.Equal(
            CircuitVerdict.Within, Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Bad, meter: poor)).Circuit.Verdict);
    }

    [Fact]
    public void What_cannot_be_worked_out_says_why()
    {
        var circuit = Job.Of(
            CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 6)), CircuitFacts.Reading(6)).Circuit;

        Assert.Equal(CircuitVerdict.CannotBeJudged, circuit.Verdict);
        Assert.NotNull(circuit.ExpectedWhyNot);
        Assert.Empty(circuit.Expected);
    }

    [Fact]
    public void A_reading_that_names_another_site_is_a_contradiction() =>
        Assert.Single(Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(Good, siteId: "site-9")).Circuit.Contradictions);

    [Fact]
    public void A_withdrawn_or_replaced_reading_is_told_with_the_facts_of_the_circuit()
    {
        var job = Job.Of(CircuitFacts.Designed());
        var wrong = job.TellsOne(CircuitFacts.Reading(Bad));

        job.Tells(Facts.Replaced(wrong, CircuitFacts.Reading(Good)));

        Assert.Equal(Good, Assert.Single(job.Circuit.LastReadings).Value);
        Assert.Equal(CorrectionAction.Replace, job.Circuit.Facts.Single(line => line.Fact == "crew-a#f2").Corrected);
    }

    [Fact]
    public void A_basis_read_back_from_its_document_gives_the_same_state_byte_for_byte()
    {
        var job = Job.Of(
            CircuitFacts.Designed(), Facts.CablePulled(), CircuitFacts.Connected(CircuitFacts.Driver(most: 48, open: 60)),
            CircuitFacts.Insulation(5), CircuitFacts.Repair());
        var basis = job.Works.BasisOf(Facts.Circuit);
        var window = ReadingWindow.Of([ReadingEntry.Of(new Crew().Waits(9).Records(CircuitFacts.Reading(Bad)).Of, CircuitFacts.Reading(Bad))!]);

        var again = JsonSerializer.Deserialize<CircuitBasis>(JsonSerializer.Serialize(basis, WireJson.Lenient), WireJson.Lenient)!;

        Assert.Equal(
            JsonSerializer.Serialize(CircuitJudge.Judge(basis, window), WireJson.Lenient),
            JsonSerializer.Serialize(CircuitJudge.Judge(again, window), WireJson.Lenient));
    }

    [Fact]
    public void Its_line_in_a_list_names_the_rules_on_it_and_on_what_it_leans_on()
    {
        var job = Job.Of(CircuitFacts.Designed(), Facts.CablePulled(), CircuitFacts.Reading(Bad));

        var line = CircuitLines.Of(job.Works.BasisOf(Facts.Circuit), job.Circuit);

        Assert.Equal(Bad, line.LastVolts);
        Assert.Equal(Crew.Start.AddMinutes(2), line.LastReadAt);
        Assert.Equal(["duct-left-open", "duct-unlabelled", "no-string-left", "reading-outside"], line.Rules);
    }
}
