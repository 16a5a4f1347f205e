using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Boxes;

/// <summary>Common practice, no source.</summary>
public sealed class JointUnderFittingTests
{
    [Fact]
    public void A_joint_under_a_fitting_is_found_and_moving_it_clears_it()
    {
        var job = Job.Of(Facts.JointMade(underFitting: true));
        job.Finds(JointUnderFitting.Rule, "joint-1");

        job.Tells(Facts.JointMade(underFitting: false)).FindsNothing(JointUnderFitting.Rule);
    }
}
