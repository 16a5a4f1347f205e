using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Works;

namespace FleetLight.Record.Tests.Works;

/// <summary>Which things belong to the facts of which site.</summary>
public sealed class SiteReachTests
{
    private static readonly ThingRef Cable = new(ThingKind.Cable, "cable");

    [Fact]
    public void A_thing_on_two_sites_brings_each_what_the_other_knows_of_it()
    {
        SiteReach reach = Of(2);

        Assert.Equal(["site-0", "site-1"], reach.SitesOf(Cable).Order(StringComparer.Ordinal));
        Assert.Equal(["site-0", "site-1"], reach.SitesOf(Circuit(0)).Order(StringComparer.Ordinal));
        Assert.All(reach.Changed, each => Assert.True(each.Brings));
    }

    [Theory]
    [InlineData(SiteReach.MostSites + 1)]
    [InlineData(300)]
    public void An_id_that_too_many_sites_use_joins_none_of_them(int sites)
    {
        SiteReach reach = Of(sites);

        Assert.Empty(reach.SitesOf(Cable));
        for (int site = 0; site < sites; site++) Assert.Equal([$"site-{site}"], reach.SitesOf(Circuit(site)));
        // What a site's own facts touch stays known as its own.
        Assert.Equal(2 * sites, reach.Changed.Count());
        Assert.All(reach.Changed, each => Assert.Equal((0, each.Thing != Cable), (each.Steps, each.Brings)));
    }

    [Fact]
    public void Sites_that_come_one_after_the_other_do_not_make_it_more()
    {
        Dictionary<(ThingRef Thing, string SiteId), int> kept = [];
        for (int site = 0; site < 200; site++)
        {
            SiteReach reach = new();
            foreach (ThingRef thing in (ThingRef[])[Cable, .. Enumerable.Range(0, site + 1).Select(Circuit)])
                reach.Know(thing, kept.Where(pair => pair.Key.Thing == thing).Select(pair => (pair.Key.SiteId, pair.Value)));
            reach.Touch($"site-{site}", Cable);
            reach.Touch($"site-{site}", Circuit(site));
            for (int other = 0; other <= site; other++) reach.Link(Circuit(other), Cable);
            foreach ((string siteId, ThingRef thing, int steps, _) in reach.Changed) kept[(thing, siteId)] = steps;
        }

        Assert.InRange(kept.Count, 400, 400 + SiteReach.MostSites * SiteReach.MostSites);
        for (int site = 0; site < 200; site++) Assert.Equal(0, kept[(Circuit(site), $"site-{site}")]);
    }

    [Fact]
    public void What_only_designs_speak_of_joins_no_more_than_what_was_laid()
    {
        Dictionary<(ThingRef Thing, string SiteId), int> kept = [];
        for (int site = 0; site < 200; site++)
        {
            SiteReach reach = new();
            foreach (ThingRef thing in (ThingRef[])[Cable, .. Enumerable.Range(0, site + 1).Select(Circuit)])
                reach.Know(thing, kept.Where(pair => pair.Key.Thing == thing).Select(pair => (pair.Key.SiteId, pair.Value)));
            reach.Touch($"site-{site}", Circuit(site));
            for (int other = 0; other <= site; other++) reach.Link(Circuit(other), Cable);
            foreach ((string siteId, ThingRef thing, int steps, _) in reach.Changed) kept[(thing, siteId)] = steps;
        }

        Assert.InRange(kept.Count, 200, 200 + 2 * SiteReach.MostSites * SiteReach.MostSites);
    }

    // Circuits of as many sites, all on one cable.
    private static SiteReach Of(int sites)
    {
        SiteReach reach = new();
        reach.Know(Cable, []);
        for (int site = 0; site < sites; site++) reach.Know(Circuit(site), []);
        for (int site = 0; site < sites; site++)
        {
            reach.Touch($"site-{site}", Cable);
            reach.Touch($"site-{site}", Circuit(site));
        }

        for (int site = 0; site < sites; site++) reach.Link(Circuit(site), Cable);
        return reach;
    }

    private static ThingRef Circuit(int number) => new(ThingKind.Circuit, $"circuit-{number}");
}
