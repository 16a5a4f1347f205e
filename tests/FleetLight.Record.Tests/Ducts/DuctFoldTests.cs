using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Ducts;
using FleetLight.Record.Files;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Ducts;

public sealed class DuctFoldTests
{
    [Fact]
    public void A_duct_that_is_only_named_says_what_it_waits_for()
    {
        var duct = Duct(Job.Of(Facts.DuctPlugged(RunEnd.Near)));

        Assert.Contains("laid", Assert.Single(duct.WaitingFor), StringComparison.Ordinal);
        Assert.Equal(Facts.Site, duct.SiteId);
    }

    [Fact]
    public void It_becomes_whole_when_the_missing_fact_comes()
    {
        var crew = new Crew();
        var works = new WorksModel();
        works.Take(crew.Records(Facts.CablePulled(), Crew.Start.AddHours(2)));

        works.Take(crew.Records(Facts.DuctLaid(bore: 50), Crew.Start));

        var duct = works.View<DuctView>(Facts.Duct);
        Assert.Empty(duct.WaitingFor);
        Assert.Equal(50, duct.BoreMillimetres);
        Assert.Equal(["crew-a#f2", "crew-a#f1"], duct.Facts.Select(line => line.Fact));
    }

    [Fact]
    public void The_fill_is_the_sum_of_the_cables_over_the_bore()
    {
        var duct = Duct(Job.Of(
            Facts.DuctLaid(bore: 50), Facts.CablePulled("c1", diameter: 10), Facts.CablePulled("c2", diameter: 20)));

        // (10² + 20²) / 50² by area.
        Assert.Equal(20, duct.FillPercent);
        Assert.Equal(["c1", "c2"], duct.CableIds);
    }

    [Fact]
    public void Without_a_diameter_the_fill_is_not_known() =>
        Assert.Null(Duct(Job.Of(Facts.DuctLaid(), Facts.CablePulled("c1", diameter: 10), Facts.CablePulled("c2"))).FillPercent);

    [Fact]
    public void A_cable_pulled_elsewhere_since_lies_here_no_longer()
    {
        var job = Job.Of(Facts.DuctLaid(), Facts.CablePulled());

        job.Tells(Facts.CablePulled(ducts: ["duct-2"]));

        Assert.Empty(Duct(job).CableIds);
        Assert.Equal([Facts.Cable], job.Works.View<DuctView>("duct-2").CableIds);
    }

    [Fact]
    public void A_pull_replaced_by_one_through_another_duct_never_was_here()
    {
        var job = new Job();
        var pull = job.TellsOne(Facts.CablePulled());

        job.Tells(Facts.Replaced(pull, Facts.CablePulled(ducts: ["duct-2"])));

        Assert.Empty(Duct(job).CableIds);
        Assert.Null(Duct(job).LastPullAt);
        Assert.Equal(CorrectionAction.Replace, Duct(job).Facts[0].Corrected);
        Assert.Equal([Facts.Cable], job.Works.View<DuctView>("duct-2").CableIds);
    }

    [Fact]
    public void Only_plugs_set_since_the_last_pull_count()
    {
        var job = Job.Of(Facts.DuctPlugged(RunEnd.Near), Facts.CablePulled(), Facts.DuctPlugged(RunEnd.Far));

        Assert.Equal([RunEnd.Far], Duct(job).PluggedEnds);
    }

    [Fact]
    public void A_label_for_both_ends_stands_at_both()
    {
        var labels = Duct(Job.Of(Facts.DuctLabelled(label: "A"), Facts.DuctLabelled(label: "B", end: RunEnd.Far))).Labels!;

        Assert.Equal("A", labels[RunEnd.Near]);
        Assert.Equal("B", labels[RunEnd.Far]);
    }

    [Fact]
    public void Two_crews_that_differ_on_a_duct_are_both_heard()
    {
        var works = new WorksModel();
        works.Take(new Crew("crew-a").Records(Facts.DuctLaid(bore: 50)));
        works.Take(new Crew("crew-b").Waits(1).Records(Facts.DuctLaid(bore: 110)));

        var duct = works.View<DuctView>(Facts.Duct);

        Assert.Equal(110, duct.BoreMillimetres);
        var text = Assert.Single(duct.Contradictions);
        Assert.Contains("50 mm by crew-a#f1", text, StringComparison.Ordinal);
        Assert.Contains("110 mm by crew-b#f1", text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_crew_that_knows_better_later_contradicts_nobody() =>
        Assert.Empty(Duct(Job.Of(Facts.DuctLaid(bore: 50), Facts.DuctLaid(bore: 63))).Contradictions);

    [Fact]
    public void Facts_that_name_different_sites_are_a_contradiction_and_the_newest_counts()
    {
        var duct = Duct(Job.Of(Facts.DuctLaid(siteId: "s1"), Facts.DuctLabelled(siteId: "s2")));

        Assert.Equal("s2", duct.SiteId);
        Assert.Contains("s1, s2", Assert.Single(duct.Contradictions), StringComparison.Ordinal);
    }

    [Fact]
    public void It_lists_the_newest_200_facts_newest_last()
    {
        var crew = new Crew();
        RecordedFact[] facts = [.. Enumerable.Range(0, 210).Select(_ => crew.Records(Facts.DuctLabelled()))];
        var file = facts.Aggregate(ThingFile.Empty(ThingKind.Duct, Facts.Duct), (file, fact) => file.With(fact));

        var lines = DuctFold.Fold(file, [], null).Facts;

        Assert.Equal(200, lines.Count);
        Assert.Equal("crew-a#f210", lines[^1].Fact);
    }

    private static DuctView Duct(Job job) => job.Works.View<DuctView>(Facts.Duct);
}
