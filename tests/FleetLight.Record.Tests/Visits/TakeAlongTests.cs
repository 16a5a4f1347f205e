using FleetLight.Contracts;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules;
using FleetLight.Record.Visits;

namespace FleetLight.Record.Tests.Visits;

public sealed class TakeAlongTests
{
    [Fact]
    public void Every_rule_is_known_and_gives_a_thing_or_a_word()
    {
        Assert.All(RuleBook.All, rule => Assert.True(TakeAlong.Knows(rule.Id), rule.Id));
        Assert.All(RuleBook.All, rule =>
        {
            var along = TakeAlong.Of([Alert(rule.Id, new ThingRef(ThingKind.Circuit, "k"))], TakeAlongGround.Empty);
            Assert.True(along.Lines.Count + along.Open.Count > 0, rule.Id);
            Assert.StartsWith("Isolate", along.Cautions[0], StringComparison.Ordinal);
        });
    }

    [Fact]
    public void A_rule_that_is_not_known_gives_its_remedy()
    {
        var along = TakeAlong.Of([Alert("of-a-newer-version", Duct("d"))], TakeAlongGround.Empty);

        Assert.Empty(along.Lines);
        Assert.Contains("Mend it.", Assert.Single(along.Open), StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_cleared_or_not_known_asks_for_nothing_and_nothing_needs_no_caution()
    {
        var along = TakeAlong.Of(
            [Alert("duct-left-open", Duct("d")) with { Standing = AlertStanding.Cleared }, new VisitAlert { Id = "gone" }], TakeAlongGround.Empty);

        Assert.Empty(along.Lines);
        Assert.Empty(along.Open);
        Assert.Empty(along.Cautions);
    }

    [Fact]
    public void A_missing_string_asks_for_the_length_of_the_duct_and_more_and_says_what_is_assumed()
    {
        var along = TakeAlong.Of([Alert("no-string-left", Duct("d"), id: "a7")], With(Ducts(DuctOf("d", length: 24))));

        var line = Assert.Single(along.Lines);
        // 24 m and a tenth, and 4 m for the ends: 30.4 m, in whole metres.
        Assert.Equal((TakeAlongItem.DrawString, 31d), (line.Item, line.LengthMetres));
        Assert.Null(line.Pieces);
        Assert.EndsWith($"({Rule.CommonPractice})", line.Assumed, StringComparison.Ordinal);
        Assert.Equal("a7", Assert.Single(line.Why).AlertId);
        Assert.Contains("24 m", line.Why[0].Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0, 2)]
    [InlineData(1, 1)]
    public void Open_ends_ask_for_plugs_of_their_bore(int plugged, int wanted)
    {
        var duct = DuctOf("d", bore: 50) with { PluggedEnds = plugged == 0 ? [] : [RunEnd.Far] };
        var line = Assert.Single(TakeAlong.Of([Alert("duct-left-open", Duct("d"))], With(Ducts(duct))).Lines);

        Assert.Equal((TakeAlongItem.DuctPlug, wanted, 50d), (line.Item, line.Pieces, line.BoreMillimetres));
        Assert.Null(line.Assumed);
    }

    [Fact]
    public void Plugs_of_one_bore_add_up_over_ducts_and_those_of_another_stand_apart()
    {
        var along = TakeAlong.Of(
            [Alert("duct-left-open", Duct("d1"), id: "1"), Alert("duct-left-open", Duct("d2"), id: "2"), Alert("duct-left-open", Duct("d3"), id: "3")],
            With(Ducts(DuctOf("d1", bore: 50), DuctOf("d2", bore: 50), DuctOf("d3", bore: 75))));

        Assert.Equal([(50d, 4), (75d, 2)], along.Lines.Select(line => (line.BoreMillimetres!.Value, line.Pieces!.Value)));
        Assert.Equal(["1", "2"], along.Lines[0].Why.Select(why => why.AlertId));
    }

    [Fact]
    public void A_duct_that_has_to_be_dug_for_asks_to_locate_what_is_buried_first()
    {
        var along = TakeAlong.Of([Alert("duct-wall-not-as-called", Duct("d"))], With(Ducts(DuctOf("d", length: 24, bore: 50))));

        Assert.Equal([TakeAlongItem.Duct, TakeAlongItem.ServiceLocator, TakeAlongItem.HandDiggingTools], along.Lines.Select(line => line.Item));
        Assert.Contains(along.Cautions, caution => caution.Contains("located before the ground is opened", StringComparison.Ordinal)
            && caution.Contains("local rules", StringComparison.Ordinal));
        Assert.StartsWith("Local codes", along.Cautions[^1], StringComparison.Ordinal);
    }

    [Fact]
    public void A_joint_of_high_resistance_asks_for_the_connectors_of_the_boxes_at_the_run()
    {
        var ground = With(circuits: [CircuitOf("k", Explained("high-resistance-joint", 0.73, "r2"))], boxes: [BoxOf("b1", [2, 2]), BoxOf("b2", [2, 3])]);

        var along = TakeAlong.Of([Alert("reading-outside", new ThingRef(ThingKind.Circuit, "k"))], ground);

        // r2 runs from b1 to b2: three connectors for two conductors, and one for three.
        Assert.Equal([(2, 3), (3, 1)], Of(along, TakeAlongItem.Connector).Select(line => (line.ConductorsEach!.Value, line.Pieces!.Value)));
        Assert.Equal(2, Assert.Single(Of(along, TakeAlongItem.Gel)).Pieces);
        Assert.Equal(["B b1", "B b2"], Of(along, TakeAlongItem.BoxLabel).Select(line => line.Label));
        Assert.Single(Of(along, TakeAlongItem.Meter));
        Assert.Single(Of(along, TakeAlongItem.CoverKey));
        Assert.Empty(Of(along, TakeAlongItem.InsulationTester));
        Assert.Contains(Of(along, TakeAlongItem.Connector)[0].Why, why => why.Says.Contains("73 % likely", StringComparison.Ordinal));
        Assert.Contains(along.Cautions, caution => caution.Contains("energised", StringComparison.Ordinal));
    }

    [Fact]
    public void Water_in_a_joint_asks_for_gel_and_a_tester_of_insulation()
    {
        var ground = With(circuits: [CircuitOf("k", Explained("water-in-joint", 0.9, "b1"))], boxes: [BoxOf("b1", [2, 2])]);

        var along = TakeAlong.Of([Alert("insulation-too-low", new ThingRef(ThingKind.Circuit, "k"))], ground);

        Assert.Single(Of(along, TakeAlongItem.InsulationTester));
        Assert.Equal(1, Assert.Single(Of(along, TakeAlongItem.Gel)).Pieces);
        Assert.Equal((2, 2), (Of(along, TakeAlongItem.Connector)[0].ConductorsEach, Of(along, TakeAlongItem.Connector)[0].Pieces));
    }

    [Theory]
    [InlineData("fitting-of-other-wattage", 1)]
    [InlineData("fitting-reversed", 1)]
    [InlineData("two-fittings-of-other-wattage", 2)]
    public void A_fitting_at_fault_asks_for_one_of_the_designed_watts(string fault, int pieces)
    {
        var ground = With(circuits: [CircuitOf("k", Explained(fault, 0.8, "f1", "f2"))]);

        var line = Assert.Single(Of(TakeAlong.Of([Alert("reading-outside", new ThingRef(ThingKind.Circuit, "k"))], ground), TakeAlongItem.Fitting));

        // f1 is of 2.6 W where 1.6 W was designed.
        Assert.Equal((pieces, 1.6), (line.Pieces, line.RatedWatts));
        Assert.Contains("350 mA", line.What, StringComparison.Ordinal);
        Assert.Equal(pieces == 1, line.Assumed is not null);
    }

    [Fact]
    public void What_is_unlikely_is_not_prepared_for_unless_it_cannot_be_told_from_the_leading_cause()
    {
        var ground = With(circuits:
        [
            CircuitOf(
                "k", Explained("fitting-reversed", 0.6, "f1"), Explained("driver-no-output", 0.2) with { Group = 2 },
                Explained("water-in-joint", 0.2, "b1")),
        ]);

        var along = TakeAlong.Of([Alert("reading-outside", new ThingRef(ThingKind.Circuit, "k"))], ground);

        Assert.Empty(Of(along, TakeAlongItem.Driver));
        Assert.Single(Of(along, TakeAlongItem.InsulationTester));
    }

    [Fact]
    public void A_driver_is_asked_for_with_a_word_on_the_mains_side()
    {
        var along = TakeAlong.Of(
            [Alert("reading-outside", new ThingRef(ThingKind.Circuit, "k"))], With(circuits: [CircuitOf("k", Explained("driver-no-output", 0.9))]));

        Assert.Contains("350 mA", Assert.Single(Of(along, TakeAlongItem.Driver)).What, StringComparison.Ordinal);
        Assert.Contains(along.Cautions, caution => caution.Contains("licensed persons", StringComparison.Ordinal));
    }

    [Fact]
    public void The_reading_to_take_next_says_which_tester_is_wanted()
    {
        var circuit = CircuitOf("k") with
        {
            NextReadings = [Next(Contracts.Calculations.MeasuredAs.MegohmsInsulation), Next(Contracts.Calculations.MeasuredAs.FittingLit)],
        };

        var along = TakeAlong.Of([Alert("reading-drifts", new ThingRef(ThingKind.Circuit, "k"))], With(circuits: [circuit]));

        Assert.Contains("Measure there.", Assert.Single(Of(along, TakeAlongItem.InsulationTester)).Why[0].Says, StringComparison.Ordinal);
    }

    [Fact]
    public void A_crowded_series_connector_asks_for_as_many_as_two_each_takes()
    {
        var along = TakeAlong.Of([Alert("series-connector-crowded", new ThingRef(ThingKind.Box, "b1"), cause: "j-b1")], With(boxes: [BoxOf("b1", [4, 2])]));

        Assert.Equal((2, 3), (Of(along, TakeAlongItem.Connector)[0].ConductorsEach, Of(along, TakeAlongItem.Connector)[0].Pieces));
    }

    [Fact]
    public void Gel_for_one_box_is_taken_once_however_many_alerts_ask_for_it()
    {
        var along = TakeAlong.Of(
            [Alert("ground-box-not-gel-filled", new ThingRef(ThingKind.Box, "b1")), Alert("box-not-closed", new ThingRef(ThingKind.Box, "b1"), id: "2")],
            With(boxes: [BoxOf("b1", [2])]));

        var gel = Assert.Single(Of(along, TakeAlongItem.Gel));
        Assert.Equal((1, 2), (gel.Pieces, gel.Why.Count));
        Assert.NotNull(gel.Assumed);
    }

    private static TakeAlongLine[] Of(TakeAlongView along, TakeAlongItem item) => [.. along.Lines.Where(line => line.Item == item)];

    private static ThingRef Duct(string id) => new(ThingKind.Duct, id);

    private static VisitAlert Alert(string rule, ThingRef subject, string cause = "", string id = "a1") => new()
    {
        Id = id,
        Standing = AlertStanding.Raised,
        Finding = new Finding
        {
            Rule = rule,
            Subject = subject,
            Cause = cause,
            Severity = AlertSeverity.Warning,
            Reason = "Something is wrong.",
            Remedy = "Mend it.",
            CircuitIds = [],
            Evidence = [],
        },
    };

    private static ExplanationView Explained(string fault, double likelihood, params string[] at) =>
        new() { Fault = fault, Says = $"It is {fault}.", At = at, Likelihood = likelihood, Group = 1 };

    private static NextReadingView Next(Contracts.Calculations.MeasuredAs quantity) =>
        new() { Places = ["driver"], Quantity = quantity, Says = "Measure there.", Caution = "", Minutes = 5, Bits = 1, WouldRead = [] };

    private static DuctView DuctOf(string id, double? length = null, double? bore = null) => new()
    {
        Id = id,
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
        PluggedEnds = [],
        StringInside = false,
        CableIds = [],
        LengthMetres = length,
        BoreMillimetres = bore,
    };

    private static BoxView BoxOf(string id, int[] conductors) => new()
    {
        Id = id,
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
        Label = $"B {id}",
        Lie = BoxLie.FlatInGround,
        GelFilled = true,
        Joints = [new JointView { JointId = $"j-{id}", CircuitId = "k", Arrangement = JointArrangement.Series, ConductorsPerConnector = conductors, UnderFitting = false }],
    };

    private static CircuitView CircuitOf(string id, params ExplanationView[] explanations) => new()
    {
        Id = id,
        Name = "Steps",
        Drive = DriveKind.ConstantCurrent,
        WaitingFor = [],
        Contradictions = [],
        Findings = [],
        Facts = [],
        Phase = CircuitPhase.Energised,
        PhaseReachedAt = new Dictionary<CircuitPhase, DateTimeOffset>(),
        MissingForNextPhase = [],
        Verdict = CircuitVerdict.Outside,
        VerdictWhy = "",
        Expected = [],
        LastReadings = [],
        Explanations = explanations,
        CannotTellApart = [],
        NextReadings = [],
        Tests = [],
        Fittings =
        [
            new FittingView { FittingId = "f1", RatedWatts = 2.6, DesignedWatts = 1.6, Fixed = true },
            new FittingView { FittingId = "f2", RatedWatts = 1.6, Fixed = true },
        ],
        CableIds = [],
        BoxIds = ["b1", "b2"],
        SpareCores = 0,
        OpenFaults = [],
        OpenPoints = [],
    };

    private static Dictionary<string, DuctView> Ducts(params DuctView[] ducts) => ducts.ToDictionary(duct => duct.Id);

    private static TakeAlongGround With(Dictionary<string, DuctView>? ducts = null, CircuitView[]? circuits = null, BoxView[]? boxes = null) => new(
        (circuits ?? []).ToDictionary(circuit => circuit.Id),
        (circuits ?? []).ToDictionary(circuit => circuit.Id, _ => Design()),
        ducts ?? [],
        new Dictionary<string, CableView>(),
        (boxes ?? []).ToDictionary(box => box.Id));

    // The driver, a run to b1, one from there to b2, and one to each fitting.
    private static CircuitInput Design() => new()
    {
        Drive = DriveKind.ConstantCurrent,
        Driver = new DriverInput { RatedMilliamps = 350, MostVolts = 60 },
        Fittings = [new FittingInput { FittingId = "f1", RatedWatts = 1.6 }, new FittingInput { FittingId = "f2", RatedWatts = 1.6 }],
        Runs = [Run("r1", "driver", "b1"), Run("r2", "b1", "b2"), Run("r3", "b2", "f1"), Run("r4", "f1", "f2")],
    };

    private static RunInput Run(string id, string from, string to) =>
        new() { RunId = id, From = from, To = to, LengthMetres = 10, AreaSquareMillimetres = 1.5, ConductorClass = ConductorClass.Class5 };
}
