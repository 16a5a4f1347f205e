using FleetLight.Contracts;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Cables;

/// <summary>Common practice, no source.</summary>
public sealed class CableUnlabelledTests
{
    [Fact]
    public void A_jointed_cable_without_a_label_is_found_and_a_label_clears_it()
    {
        var job = Job.Of(Facts.CablePulled(), Facts.JointMade());
        job.Finds(CableUnlabelled.Rule);

        job.Tells(Facts.CableLabelled(end: RunEnd.Near)).FindsNothing(CableUnlabelled.Rule);
    }

    [Fact]
    public void A_sleeved_cable_without_a_label_is_found()
    {
        Job.Of(Facts.CablePulled(), Facts.CoreSleeved("brown", CorePolarity.Positive)).Finds(CableUnlabelled.Rule);
    }

    [Fact]
    public void A_cable_that_was_only_pulled_needs_none_yet()
    {
        Job.Of(Facts.CablePulled()).FindsNothing(CableUnlabelled.Rule);
    }
}
