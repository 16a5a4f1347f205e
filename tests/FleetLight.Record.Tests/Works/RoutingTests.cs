using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Works;

namespace FleetLight.Record.Tests.Works;

public sealed class RoutingTests
{
    [Fact]
    public void A_pull_touches_its_cable_its_ducts_and_the_circuits_of_its_cores_each_once() =>
        Assert.Equal(
            [Cable("c"), Duct("d1"), Duct("d2"), Circuit("k1"), Circuit("k2")],
            Routing.Touches(Facts.CablePulled(
                "c", ["d1", "d2"], cores: [Facts.Core("1", "k1"), Facts.Core("2", "k1"), Facts.Core("3", "k2"), Facts.Core("4", null)])));

    [Fact]
    public void A_joint_touches_its_box_its_circuit_and_each_cable_it_holds() =>
        Assert.Equal(
            [Box("b"), Circuit("k"), Cable("c1"), Cable("c2")],
            Routing.Touches(Facts.JointMade("b", circuitId: "k", connectors:
                [Facts.Connector(Facts.Held("1", "c1"), Facts.Held("1", "c2")), Facts.Connector(Facts.Held("2", "c1"), Facts.Lead("F1"))])));

    [Fact]
    public void A_design_touches_its_circuit_alone_and_leans_on_its_cables_and_boxes()
    {
        var design = CircuitFacts.Designed("k", runs:
            [CircuitFacts.Run("R1", "driver", "b1"), CircuitFacts.Run("R2", "b1", "F1", cableId: "c1"), CircuitFacts.Run("R3", "F1", "F2", cableId: "c1")]);

        Assert.Equal([Circuit("k")], Routing.Touches(design));
        Assert.Equal([(Cable("c1"), Circuit("k")), (Box("b1"), Circuit("k"))], Routing.Edges(design));
    }

    [Fact]
    public void Who_leans_on_whom_follows_from_pulls_joints_ducts_and_joinings()
    {
        Assert.Equal(
            [(Duct("d1"), Cable("c")), (Cable("c"), Circuit("k"))],
            Routing.Edges(Facts.CablePulled("c", ["d1"], cores: [Facts.Core("1", "k"), Facts.Core("2", "k")])));
        Assert.Equal([(Box("b"), Circuit("k"))], Routing.Edges(Facts.JointMade("b", circuitId: "k")));
        Assert.Equal([(new ThingRef(ThingKind.Site, Facts.Site), Duct("d"))], Routing.Edges(Facts.DuctLaid("d")));
        Assert.Equal(
            [(Box("a"), Box("b")), (Box("b"), Box("a"))], Routing.Edges(Facts.Joined(ThingKind.Box, "a", "b")));
        Assert.Empty(Routing.Edges(CircuitFacts.Reading(1)));
    }

    [Fact]
    public void A_correction_touches_what_the_fact_touched_and_what_it_touches_now()
    {
        var pull = Facts.CablePulled("c", ["d1"], cores: [Facts.Core("1", "k1")]);

        Assert.Equal(
            [Cable("c"), Duct("d1"), Circuit("k1"), Duct("d2")],
            Routing.TouchesOfCorrection(pull, pull with { DuctIds = ["d2"] }));
        Assert.Equal(Routing.Touches(pull), Routing.TouchesOfCorrection(pull, null));
        Assert.Equal(
            [Cable("c"), Duct("d1"), Circuit("k1"), Duct("d2"), Duct("d3")],
            Routing.TouchesOfCorrections(pull, [pull with { DuctIds = ["d2"] }, pull with { DuctIds = ["d3"] }]));
        Assert.Empty(Routing.Touches(Facts.Withdrawn(new Crew().Records(pull))));
    }

    [Fact]
    public void Every_type_of_fact_but_the_correction_touches_something() => Assert.All(
        FactTypes.All.Where(type => type.Value != typeof(FactCorrected)),
        type => Assert.NotEmpty(Routing.Touches(AnyFact.Of(type.Value, new Dice(1)))));

    private static ThingRef Cable(string id) => new(ThingKind.Cable, id);

    private static ThingRef Duct(string id) => new(ThingKind.Duct, id);

    private static ThingRef Box(string id) => new(ThingKind.Box, id);

    private static ThingRef Circuit(string id) => new(ThingKind.Circuit, id);
}
