using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Cables;

public sealed class CableFoldTests
{
    [Fact]
    public void It_tells_what_was_pulled_with_its_cores_and_sleeves()
    {
        var cable = Cable(Job.Of(
            Facts.CablePulled(cores: [Facts.Core("brown"), Facts.Core("blue"), Facts.Core("grey", null), Facts.Core("black", null)]),
            Facts.CoreSleeved("brown", CorePolarity.Positive, RunEnd.Near),
            Facts.CableLabelled(label: "path")));

        Assert.Equal(2, cable.SpareCores);
        Assert.Equal(CorePolarity.Positive, cable.Cores[0].Sleeves[RunEnd.Near]);
        Assert.Equal("path", cable.Labels![RunEnd.Far]);
        Assert.Equal([Facts.Duct], cable.DuctIds);
        Assert.Equal(Crew.Start, cable.PulledAt);
    }

    [Fact]
    public void What_was_done_before_the_pull_was_known_is_kept()
    {
        var job = Job.Of(Facts.CoreSleeved("brown", CorePolarity.Positive));
        Assert.Contains("pulled", Assert.Single(Cable(job).WaitingFor), StringComparison.Ordinal);

        job.Tells(Facts.CablePulled());

        Assert.Empty(Cable(job).WaitingFor);
        Assert.Single(Cable(job).Cores[0].Sleeves);
    }

    [Fact]
    public void Two_crews_that_pulled_it_with_different_cores_are_both_heard()
    {
        var works = new WorksModel();
        works.Take(
            new Crew("crew-a").Records(Facts.CablePulled()),
            new Crew("crew-b").Waits(1).Records(Facts.CablePulled(cores: [Facts.Core("1"), Facts.Core("2")])));

        var cable = works.View<CableView>(Facts.Cable);

        Assert.Equal("1", cable.Cores[0].Core);
        Assert.Contains("list of cores", Assert.Single(cable.Contradictions), StringComparison.Ordinal);
    }

    [Fact]
    public void Cores_that_the_cable_does_not_have_are_contradictions()
    {
        var cable = Cable(Job.Of(
            Facts.CablePulled(),
            Facts.CoreSleeved("pink", CorePolarity.Positive),
            Facts.JointMade(connectors: [Facts.Connector(Facts.Held("violet"))])));

        Assert.Equal(2, cable.Contradictions.Count);
    }

    private static CableView Cable(Job job) => job.Works.View<CableView>(Facts.Cable);
}
