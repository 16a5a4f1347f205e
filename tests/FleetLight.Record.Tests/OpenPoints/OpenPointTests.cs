using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.OpenPoints;
using FleetLight.Record.Rules;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Sites;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.OpenPoints;

public sealed class OpenPointTests
{
    [Fact]
    public void A_bare_duct_lacks_a_string_its_plugs_and_its_labels()
    {
        var points = Open(Job.Of(Facts.DuctLaid()));

        Assert.Equal(
            ["duct:duct-1:label:far", "duct:duct-1:label:near", "duct:duct-1:plugged:far", "duct:duct-1:plugged:near", "duct:duct-1:string"],
            points.Select(point => point.Key).Order(StringComparer.Ordinal));
        Assert.All(points, point => Assert.Equal((WorkPhase.BeforeCover, AlertSeverity.Notice, 0), (point.Phase, point.Severity, point.Rules.Count)));
    }

    [Fact]
    public void What_a_rule_finds_is_the_same_point_with_the_weight_of_the_rule()
    {
        var points = Open(Job.Of(Facts.DuctLaid(), Facts.DuctPlugged(RunEnd.Near), Facts.CablePulled()));

        Assert.All(["near", "far"], end => Assert.Equal([DuctLeftOpen.Rule.Id], Point(points, $"duct:duct-1:plugged:{end}").Rules));
        Assert.Equal(AlertSeverity.Warning, Point(points, "duct:duct-1:plugged:near").Severity);
        Assert.Equal([NoStringLeft.Rule.Id], Point(points, "duct:duct-1:string").Rules);
        Assert.Equal(["circuit-1"], Point(points, "duct:duct-1:string").CircuitIds);
        Assert.DoesNotContain("laid-in", points.SelectMany(point => point.TicksOff).Select(tick => tick.Data.ToString()).Where(text => text.Contains("method")));
    }

    [Fact]
    public void A_pipe_for_water_is_asked_for_no_string_and_no_plugs()
    {
        var points = Open(Job.Of(Facts.DuctLaid(service: DuctService.Water, colour: DuctColour.Blue)));

        Assert.Equal(["duct:duct-1:label:far", "duct:duct-1:label:near"], points.Select(point => point.Key));
    }

    [Fact]
    public void An_end_is_looked_for_where_it_comes_up()
    {
        var laid = Facts.DuctLaid() with
        {
            NearEndAt = "Pillar",
            FarEndAt = "Steps",
            Route = new GeoLine { Type = "LineString", Coordinates = [[7.1, 50.7], [7.2, 50.8]] },
        };

        var points = Open(Job.Of(laid, Facts.CablePulled()));

        Assert.Equal("Steps", Point(points, "duct:duct-1:plugged:far").Place);
        Assert.Equal([7.2, 50.8], Point(points, "duct:duct-1:plugged:far").Position!.Coordinates);
        Assert.Equal("Pillar", Point(points, "cable:cable-1:label:near").Place);
        // What is at the pillar stands together, the most urgent first.
        var places = points.Select(point => point.Place).OfType<string>().ToList();
        Assert.Equal(places.Order(StringComparer.Ordinal), places);
        var pillar = points.Where(point => point.Place == "Pillar").ToList();
        Assert.Equal(pillar.OrderBy(point => point.Phase).ThenByDescending(point => point.Severity).Select(point => point.Key), pillar.Select(point => point.Key));
    }

    [Fact]
    public void Every_core_that_carries_a_circuit_is_asked_for_a_sleeve_at_both_ends()
    {
        var points = Open(Job.Of(
            Facts.CablePulled(cores: [Facts.Core("brown"), Facts.Core("blue"), Facts.Core("grey", null)]), Facts.JointMade(),
            Facts.CoreSleeved("blue", CorePolarity.Negative)));

        var brown = Point(points, "cable:cable-1:sleeve:brown:near");
        Assert.Equal([PolaritySleeveMissing.Rule.Id], brown.Rules);
        Assert.Equal(["Sleeved positive", "Sleeved negative", "Sleeved as a series link"], brown.TicksOff.Select(tick => tick.Says));
        // The other end says what this one has to say.
        Assert.Equal("Sleeved negative", Assert.Single(Point(points, "cable:cable-1:sleeve:blue:far").TicksOff).Says);
        Assert.DoesNotContain(points, point => point.Key.Contains("grey", StringComparison.Ordinal) || point.Key.EndsWith("blue:near", StringComparison.Ordinal));
    }

    [Fact]
    public void A_spare_core_is_a_reminder_since_no_fact_says_that_it_was_parked()
    {
        var reminder = Assert.Single(OpenPointList.Of(StatesOf(Job.Of(
            Facts.CablePulled(cores: [Facts.Core("brown"), Facts.Core("grey", null)]), Facts.CableLabelled()))).Reminders);

        Assert.Equal("C1", reminder.Label);
        Assert.Contains("grey", reminder.Says, StringComparison.Ordinal);
    }

    [Fact]
    public void All_that_hangs_on_how_a_box_is_closed_is_one_point_with_one_fact()
    {
        var points = Open(Job.Of(Facts.BoxSealed(entry: BoxEntry.Membrane, strainRelief: false, gelFilled: false, label: "B1")));

        var point = Assert.Single(points);
        Assert.Equal([GroundBoxNotGelFilled.Rule.Id, MembraneWithoutStrainRelief.Rule.Id], point.Rules);
        Assert.Equal((WorkPhase.BeforeCover, "box B1"), (point.Phase, point.Place));
        var data = Assert.Single(point.TicksOff).Data;
        Assert.True(data.GetProperty("gelFilled").GetBoolean());
        Assert.True(data.GetProperty("strainRelief").GetBoolean());
        Assert.Equal("membrane", data.GetProperty("entry").GetString());
    }

    [Fact]
    public void A_box_that_nobody_closed_asks_how_it_was_closed()
    {
        var point = Point(Open(Job.Of(Facts.JointMade())), "box:box-1:closed");

        Assert.Equal([BoxNotClosed.Rule.Id], point.Rules);
        Assert.Equal(["lie", "entry", "strainRelief", "gelFilled", "breathing"], Assert.Single(point.TicksOff).Asks);
    }

    [Fact]
    public void A_joint_under_a_fitting_is_to_be_made_anew()
    {
        var point = Point(Open(Job.Of(Facts.JointMade(underFitting: true), Facts.BoxSealed(label: "B1"))), "box:box-1:joint-under-fitting:joint-1");

        var tick = Assert.Single(point.TicksOff);
        Assert.Equal(["connectors"], tick.Asks);
        Assert.False(tick.Data.GetProperty("underFitting").GetBoolean());
    }

    [Fact]
    public void A_designed_circuit_lacks_cables_fittings_driver_and_current()
    {
        var points = Open(Job.Of(CircuitFacts.Designed()), CircuitFacts.Designed());

        Assert.Equal(
            [
                "circuit:circuit-1:cable:R1", "circuit:circuit-1:cable:R2", "circuit:circuit-1:connected", "circuit:circuit-1:fixed:F1",
                "circuit:circuit-1:fixed:F2", "circuit:circuit-1:energised",
            ],
            points.Select(point => point.Key));
        var cable = Assert.Single(points[0].TicksOff);
        Assert.Equal((1.5, "class5", "cable-1"), (
            cable.Data.GetProperty("areaSquareMillimetres").GetDouble(), cable.Data.GetProperty("conductorClass").GetString(), cable.Data.GetProperty("cableId").GetString()));
        Assert.Equal(["ductIds", "lengthMetres", "cores"], cable.Asks);
    }

    [Fact]
    public void Without_the_design_at_hand_the_same_is_said_in_words()
    {
        var points = Open(Job.Of(CircuitFacts.Designed()));

        Assert.Equal(2, points.Count(point => point.Key.StartsWith("circuit:circuit-1:cable:", StringComparison.Ordinal)));
        Assert.Contains(points, point => point.Missing.Contains("Cable cable-2 of run R2", StringComparison.Ordinal));
    }

    [Fact]
    public void The_loop_is_to_be_read_while_the_cable_can_be_reached()
    {
        var job = Job.Of(CircuitFacts.Designed(), Facts.CablePulled(), Facts.CablePulled("cable-2"));
        Assert.Equal(WorkPhase.BeforeCover, Point(Open(job), "circuit:circuit-1:read:loop-ohms").Phase);

        job.Tells(CircuitFacts.Reading(0.5, ReadingQuantity.LoopOhms));

        Assert.DoesNotContain(Open(job), point => point.Key.EndsWith("loop-ohms", StringComparison.Ordinal));
    }

    [Fact]
    public void Tests_of_a_mains_side_are_due_before_it_is_energised()
    {
        var design = CircuitFacts.Designed(mainsSide: true, runs: []);
        var points = Open(Job.Of(design, CircuitFacts.Insulation(200), CircuitFacts.Continuity()), design);

        Assert.Equal(WorkPhase.BeforeEnergising, Point(points, "circuit:circuit-1:test:polarity").Phase);
        Assert.Equal(WorkPhase.BeforeHandover, Point(points, "circuit:circuit-1:test:residual-current-device").Phase);
        Assert.DoesNotContain(points, point => point.Key.EndsWith("insulation-resistance", StringComparison.Ordinal) || point.Key.EndsWith("continuity", StringComparison.Ordinal));
    }

    [Fact]
    public void A_test_that_failed_is_one_point_and_says_why()
    {
        var design = CircuitFacts.Designed(mainsSide: true, runs: []);
        var points = Open(Job.Of(design, CircuitFacts.Insulation(0.2)), design);

        var point = Point(points, "circuit:circuit-1:test:insulation-resistance");
        Assert.Equal([InsulationTooLow.Rule.Id], point.Rules);
        Assert.Equal(AlertSeverity.Serious, point.Severity);
        Assert.Contains("0.2 MΩ", point.Missing, StringComparison.Ordinal);
        Assert.DoesNotContain(points, other => other.Key.Contains("insulation-too-low", StringComparison.Ordinal));
    }

    [Fact]
    public void Handed_over_with_gaps_is_said_by_the_gaps()
    {
        var points = Open(Job.Of(CircuitFacts.Designed(), CircuitFacts.HandedOver(), CircuitFacts.Fault()));

        Assert.DoesNotContain(points, point => point.Rules.Contains(HandedOverIncomplete.Rule.Id));
        Assert.Equal(["what"], Assert.Single(Point(points, "circuit:circuit-1:fault-open:fault-1").TicksOff).Asks);
    }

    [Fact]
    public void A_phase_takes_in_what_should_have_been_done_before_it()
    {
        var states = StatesOf(Job.Of(CircuitFacts.Designed(), Facts.DuctLaid(), Facts.CablePulled(), Facts.BoxSealed()));
        var all = OpenPointList.Of(states).Points;

        foreach (var phase in Enum.GetValues<WorkPhase>())
            Assert.Equal(all.Where(point => point.Phase <= phase).Select(point => point.Key), OpenPointList.Of(states, phase).Points.Select(point => point.Key));
        Assert.All(Enum.GetValues<WorkPhase>(), phase => Assert.Contains(all, point => point.Phase == phase));
    }

    [Fact]
    public void Every_rule_has_its_phase_or_is_said_otherwise() =>
        Assert.All(RuleBook.All, rule => Assert.True(RulePhases.Find(rule.Id) is null == RulePhases.SaidOtherwise.Contains(rule.Id), $"{rule.Id} has no phase."));

    internal static SiteStates StatesOf(Job job, params CircuitDesigned[] designs) => StatesOf(job.Works, designs);

    internal static SiteStates StatesOf(WorksModel works, params CircuitDesigned[] designs) => new()
    {
        SiteId = Facts.Site,
        Ducts = [.. works.Views.Values.OfType<DuctView>()],
        Cables = [.. works.Views.Values.OfType<CableView>()],
        Boxes = [.. works.Views.Values.OfType<BoxView>()],
        Circuits = [.. works.Views.Values.OfType<CircuitView>()],
        Designs = designs.ToDictionary(design => design.CircuitId),
    };

    private static IReadOnlyList<OpenPoint> Open(Job job, params CircuitDesigned[] designs) => OpenPointList.Of(StatesOf(job, designs)).Points;

    private static OpenPoint Point(IReadOnlyList<OpenPoint> points, string key) => Assert.Single(points, point => point.Key == key);
}
