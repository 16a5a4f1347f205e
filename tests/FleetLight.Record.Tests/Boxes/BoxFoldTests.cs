using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Boxes;

public sealed class BoxFoldTests
{
    [Fact]
    public void It_tells_how_it_lies_and_what_is_in_it()
    {
        var box = Box(Job.Of(
            Facts.JointMade(connectors: [Facts.Connector(Facts.Held("brown"), Facts.Lead("F1")), Facts.Connector(Facts.Held("blue"))]),
            Facts.BoxSealed(label: "by the steps")));

        Assert.Equal(BoxLie.FlatInGround, box.Lie);
        Assert.Equal([2, 1], Assert.Single(box.Joints).ConductorsPerConnector);
        Assert.Equal(Crew.Start.AddMinutes(1), box.SealedAt);
    }

    [Fact]
    public void Closed_again_it_keeps_its_name()
    {
        var box = Box(Job.Of(Facts.BoxSealed(label: "by the steps"), Facts.BoxSealed()));

        Assert.Equal("by the steps", box.Label);
    }

    [Fact]
    public void A_joint_made_again_is_one_joint()
    {
        var box = Box(Job.Of(Facts.JointMade(underFitting: true), Facts.JointMade()));

        Assert.False(Assert.Single(box.Joints).UnderFitting);
    }

    [Fact]
    public void Two_crews_that_differ_on_how_it_lies_are_both_heard()
    {
        var works = new WorksModel();
        works.Take(
            new Crew("crew-a").Records(Facts.BoxSealed()),
            new Crew("crew-b").Waits(1).Records(Facts.BoxSealed(lie: BoxLie.OnWall)));

        Assert.Contains("lie", Assert.Single(works.View<BoxView>(Facts.Box).Contradictions), StringComparison.Ordinal);
    }

    private static BoxView Box(Job job) => job.Works.View<BoxView>(Facts.Box);
}
