using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Works;

namespace FleetLight.Record.Tests.Works;

/// <summary>Who must be folded again, and no more than that.</summary>
public sealed class ReachTests
{
    private readonly HashSet<(ThingRef From, ThingRef To)> links = [];

    [Fact]
    public void A_duct_reaches_the_circuits_on_its_cables_and_leaves_the_cables_alone()
    {
        Knows(Pull("c1", ["d1"], "k1"), Pull("c2", ["d1", "d2"], "k2"), Pull("c3", ["d2"], "k3"));

        var reach = Of(new ThingRef(ThingKind.Duct, "d1"));

        Assert.Equal(["Duct d1"], Things(reach));
        Assert.Equal(["k1", "k2"], reach.CircuitIds.Order());
    }

    [Fact]
    public void A_cable_reaches_its_ducts_and_through_them_every_circuit_in_them()
    {
        Knows(Pull("c1", ["d1"], "k1"), Pull("c2", ["d1", "d2"], "k2"), Pull("c3", ["d2"], "k3"));

        var reach = Of(new ThingRef(ThingKind.Cable, "c1"));

        Assert.Equal(["Duct d1", "Cable c1"], Things(reach));
        Assert.Equal(["k1", "k2"], reach.CircuitIds.Order());
    }

    [Fact]
    public void A_site_reaches_its_ducts()
    {
        Knows(Facts.DuctLaid("d1"), Facts.DuctLaid("d2", siteId: "other"), Pull("c1", ["d1"], "k1"));

        var reach = Of(new ThingRef(ThingKind.Site, Facts.Site));

        Assert.Equal(["Site site-1", "Duct d1"], Things(reach));
        Assert.Equal(["k1"], reach.CircuitIds);
    }

    [Fact]
    public void What_is_joined_is_reached_under_every_id()
    {
        Knows(
            Pull("c3", ["d1"], "k1"), Facts.Joined(ThingKind.Cable, "c1", "c2"), Facts.Joined(ThingKind.Cable, "c2", "c3"));

        var reach = Of(new ThingRef(ThingKind.Cable, "c1"));

        Assert.Equal(["Duct d1", "Cable c1", "Cable c2", "Cable c3"], Things(reach));
        Assert.Equal(["k1"], reach.CircuitIds);
    }

    [Fact]
    public void A_cable_that_was_passed_by_and_is_reached_as_the_same_later_is_folded_with_all_that_it_is_joined_with()
    {
        Knows(
            Pull("c2", ["d1"], "k1"),
            Facts.Joined(ThingKind.Cable, "c0", "c1"),
            Facts.Joined(ThingKind.Cable, "c1", "c2"),
            Facts.Joined(ThingKind.Cable, "c2", "c3"));

        var reach = Of(new ThingRef(ThingKind.Duct, "d1"), new ThingRef(ThingKind.Cable, "c0"));

        Assert.Equal(["Duct d1", "Cable c0", "Cable c1", "Cable c2", "Cable c3"], Things(reach));
    }

    [Fact]
    public void One_circuit_among_two_thousand_reaches_itself_alone()
    {
        for (var i = 0; i < 2000; i++)
            Knows(Pull($"c{i}", [$"d{i / 20}"], $"k{i}"), Facts.JointMade($"b{i}", circuitId: $"k{i}"));

        Assert.Equal(["k7"], Of(new ThingRef(ThingKind.Circuit, "k7")).CircuitIds);
        Assert.Equal(["k7"], Of(new ThingRef(ThingKind.Box, "b7")).CircuitIds);
        Assert.Equal(20, Of(new ThingRef(ThingKind.Cable, "c7")).CircuitIds.Count);
    }

    private void Knows(params IFact[] facts)
    {
        foreach (var fact in facts) links.UnionWith(Routing.Edges(fact));
    }

    private static CablePulled Pull(string cable, string[] ducts, string circuit) =>
        Facts.CablePulled(cable, ducts, cores: [Facts.Core("1", circuit)]);

    private Reach Of(params ThingRef[] changed)
    {
        var reach = new Reach(changed);
        while (reach.Asks.Count > 0)
        {
            reach.Answer([.. reach.Asks.Select(ask => (ask, (IReadOnlyCollection<ThingRef>)
                [.. links.Where(link => (ask.Backwards ? link.To : link.From) == ask.Thing)
                    .Select(link => ask.Backwards ? link.From : link.To)]))]);
        }

        return reach;
    }

    private static IEnumerable<string> Things(Reach reach) =>
        reach.Things.OrderBy(thing => thing.Kind).ThenBy(thing => thing.Id).Select(thing => $"{thing.Kind} {thing.Id}");
}
