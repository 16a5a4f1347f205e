using FleetLight.Contracts;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Boxes;

/// <summary>Common practice, no source.</summary>
public sealed class GroundBoxNotGelFilledTests
{
    [Fact]
    public void A_flat_box_in_the_ground_without_gel_is_found_and_filling_it_clears_it()
    {
        var job = Job.Of(Facts.BoxSealed(gelFilled: false));
        job.Finds(GroundBoxNotGelFilled.Rule);

        job.Tells(Facts.BoxSealed(gelFilled: true)).FindsNothing(GroundBoxNotGelFilled.Rule);
    }

    [Fact]
    public void A_box_on_a_wall_needs_no_gel()
    {
        Job.Of(Facts.BoxSealed(lie: BoxLie.OnWall, gelFilled: false, breathing: true)).FindsNothing(GroundBoxNotGelFilled.Rule);
    }
}
