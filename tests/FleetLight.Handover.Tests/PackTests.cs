using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Handover;
using FleetLight.Record.Works;
using FleetLight.Testing.Builders;

namespace FleetLight.Handover.Tests;

/// <summary>What a pack says, beside the states of the same facts.</summary>
public sealed class PackTests
{
    private static readonly IReadOnlyList<RecordedFact> Recorded = Garden.Recorded();
    private static readonly HandoverPack Pack = HandoverMaker.Of(Recorded, Garden.Wish())!;

    [Fact]
    public void It_tells_of_the_things_that_the_states_tell_of()
    {
        var works = new MemoryWorks();
        works.Take(Recorded);
        var views = works.ViewsOfSite(Facts.Site);

        Assert.Equal(views.OfType<DuctView>().Select(duct => duct.Id).Order(), Pack.Ducts.Select(duct => duct.Id).Order());
        Assert.Equal(views.OfType<CableView>().Select(cable => cable.Id).Order(), Pack.Cables.Select(cable => cable.Id).Order());
        Assert.Equal(views.OfType<BoxView>().Select(box => box.Id).Order(), Pack.Boxes.Select(box => box.Id).Order());
        foreach (var view in views.OfType<CircuitView>())
        {
            var circuit = Assert.Single(Pack.Circuits, each => each.State.Id == view.Id);
            Assert.Equal((view.Phase, view.Verdict, view.VerdictWhy), (circuit.State.Phase, circuit.State.Verdict, circuit.State.VerdictWhy));
            Assert.Equal(view.Expected, circuit.State.Expected);
            // The newest readings of the state are the newest of the pack, judged the same.
            Assert.Equal(view.LastReadings, circuit.Readings.Take(view.LastReadings.Count).Select(reading => reading.Reading));
        }

        Assert.Equal(works.FindingsOfSite(Facts.Site).Count, Pack.Alerts.Count);
        Assert.Equal(Pack.Alerts.OrderByDescending(alert => alert.Severity).Select(alert => alert.Severity), Pack.Alerts.Select(alert => alert.Severity));
    }

    [Fact]
    public void A_reading_says_who_took_it_with_which_meter()
    {
        var first = Pack.Circuits[0].Readings[^1];

        Assert.Equal(("crew-a", "Meter 4", 0.8), (first.By, first.MeterName, first.Meter!.PercentOfReading));
        Assert.NotNull(first.Reading.Expected);
        var test = Assert.Single(Pack.Circuits[0].Tests);
        Assert.Equal((TestKind.InsulationResistance, false, true, "Tester 1"), (test.Test.Test, test.Test.MainsSide, test.Test.Meets == true, test.MeterName));
    }

    [Fact]
    public void Every_reading_is_told_not_only_those_that_the_state_holds()
    {
        var many = Garden.Pack(1, 2, 40);

        Assert.Equal(41, many.Circuits[0].Readings.Count);
        Assert.All(many.Circuits[0].Readings, reading => Assert.NotEqual(CircuitVerdict.CannotBeJudged, reading.Reading.Verdict));
    }

    [Fact]
    public void A_withdrawn_reading_is_not_told_and_stays_in_the_digest()
    {
        var wrong = Recorded.Last(fact => fact.Data is ReadingTaken { CircuitId: "k1" });
        var correction = new Crew("office").Records(Facts.Withdrawn(wrong), Garden.Now.AddDays(-1));
        var pack = HandoverMaker.Of([.. Recorded, correction], Garden.Wish())!;

        Assert.DoesNotContain(pack.Circuits[0].Readings, reading => reading.Reading.Fact == $"{wrong.Of.Source}#{wrong.Of.Id}");
        Assert.Equal(Recorded.Count + 1, pack.Digest.Facts.Count);
    }

    [Fact]
    public void A_day_of_the_past_is_told_as_it_was()
    {
        var lastReading = Recorded[^1].Of.HappenedAt;
        var before = HandoverMaker.Of(Recorded, Garden.Wish(asOf: lastReading.AddDays(-5)))!;

        Assert.Equal(DateOnly.FromDateTime(lastReading.AddDays(-5).DateTime), before.Day);
        Assert.Equal(Pack.Circuits[0].Readings.Count - 1, before.Circuits[0].Readings.Count);
        Assert.True(before.Digest.Facts.Count < Pack.Digest.Facts.Count);
        Assert.Null(HandoverMaker.Of(Recorded, Garden.Wish(asOf: Crew.Start.AddDays(-1))));
    }

    [Fact]
    public void A_site_that_the_facts_know_nothing_of_has_no_pack() =>
        Assert.Null(HandoverMaker.Of(Recorded, Garden.Wish() with { SiteId = "elsewhere" }));

    [Fact]
    public void What_stands_on_another_site_is_not_told()
    {
        var other = new Crew("crew-b").Records(Facts.DuctLaid("d-elsewhere", siteId: "site-2"));
        var pack = HandoverMaker.Of([.. Recorded, other], Garden.Wish())!;

        Assert.DoesNotContain(pack.Ducts, duct => duct.Id == "d-elsewhere");
    }

    [Fact]
    public void The_order_of_arrival_does_not_show()
    {
        var turned = HandoverMaker.Of(Recorded.Reverse(), Garden.Wish())!;

        Assert.Equal(System.Text.Json.JsonSerializer.Serialize(Pack, WireJson.Lenient), System.Text.Json.JsonSerializer.Serialize(turned, WireJson.Lenient));
    }

    [Fact]
    public void The_first_page_says_in_plain_words_what_is_there_and_what_not_to_do()
    {
        Assert.Contains("2 lighting circuits with 8 fittings, 12.8 W in all.", Pack.Summary.InTheGround);
        Assert.Contains("9 ducts", Pack.Summary.InTheGround[1], StringComparison.Ordinal);
        Assert.Contains("45 cm deep", Pack.Summary.InTheGround[1], StringComparison.Ordinal);
        Assert.Contains(Pack.Summary.State, line => line.StartsWith("All circuits are in use, the last one since 2 March 2026", StringComparison.Ordinal));
        Assert.Contains(Pack.Summary.DoNot, line => line.StartsWith("Do not dig", StringComparison.Ordinal));
        Assert.Contains(Pack.Cautions, caution => caution.About == "Mains side");
        Assert.NotEmpty(Pack.OpenPoints);
        Assert.All(Pack.OpenPoints, point => Assert.Empty(point.TicksOff));
    }

    [Fact]
    public void A_circuit_that_reads_wrong_is_named_on_the_first_page()
    {
        var wrong = new Crew("crew-b").Records(CircuitFacts.Reading(3, circuitId: "k2"), Garden.Now.AddDays(-1));
        var pack = HandoverMaker.Of([.. Recorded, wrong], Garden.Wish())!;

        Assert.Contains(pack.Summary.State, line => line.Contains("Not as it should be: Path 2.", StringComparison.Ordinal));
        Assert.Contains(pack.Alerts, alert => alert.Rule == "reading-outside");
    }

    [Fact]
    public void Who_recorded_is_counted_by_source_and_type()
    {
        var recorder = Assert.Single(Pack.Recorders);

        Assert.Equal(("crew-a", "Heather crew", Recorded.Count), (recorder.Source, recorder.Name, recorder.Facts));
        Assert.Equal(recorder.Facts, recorder.FactsByType.Values.Sum());
        Assert.Equal(8, recorder.FactsByType["fleetlight.cable.pulled.v1"]);
    }
}
