using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Boxes;

/// <summary>Common practice, no source.</summary>
public sealed class BoxNotClosedTests
{
    [Fact]
    public void A_joint_made_after_the_box_was_closed_is_found_and_closing_it_clears_it()
    {
        var job = Job.Of(Facts.BoxSealed(), Facts.JointMade());
        job.Finds(BoxNotClosed.Rule);

        job.Tells(Facts.BoxSealed()).FindsNothing(BoxNotClosed.Rule);
    }

    [Fact]
    public void A_box_without_a_joint_may_stand_open()
    {
        Job.Of(Facts.JointMade("box-2"), Facts.BoxSealed("box-2"), Facts.BoxSealed()).FindsNothing(BoxNotClosed.Rule);
    }
}
