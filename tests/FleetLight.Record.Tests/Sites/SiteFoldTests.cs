using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Files;
using FleetLight.Record.Sites;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Sites;

public sealed class SiteFoldTests
{
    [Fact]
    public void The_newest_opening_counts_and_the_first_says_since_when()
    {
        var site = Job.Of(Facts.SiteOpened(name: "Garden"), Facts.SiteOpened(name: "Kitchen garden")).Works.View<SiteView>(Facts.Site);

        Assert.Equal("Kitchen garden", site.Name);
        Assert.Equal(Crew.Start, site.OpenedAt);
        Assert.Empty(site.Contradictions);
    }

    [Fact]
    public void A_site_without_a_fact_waits_for_its_opening() =>
        Assert.Single(SiteFold.Fold(ThingFile.Empty(ThingKind.Site, "s")).WaitingFor);

    [Fact]
    public void Two_sources_that_name_it_differently_are_both_heard()
    {
        var works = new WorksModel();
        works.Take(
            new Crew("crew-a").Records(Facts.SiteOpened(name: "Garden")),
            new Crew("office").Waits(1).Records(Facts.SiteOpened(name: "Square")));

        Assert.Single(works.View<SiteView>(Facts.Site).Contradictions);
    }
}
