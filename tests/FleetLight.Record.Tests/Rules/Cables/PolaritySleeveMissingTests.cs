using FleetLight.Contracts;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Cables;

/// <summary>Common practice, no source.</summary>
public sealed class PolaritySleeveMissingTests
{
    [Fact]
    public void A_jointed_core_without_a_sleeve_is_found_and_a_sleeve_clears_it()
    {
        var job = Job.Of(Facts.CablePulled(), Facts.JointMade());
        Assert.Contains("brown", job.Finds(PolaritySleeveMissing.Rule).Reason, StringComparison.Ordinal);

        job.Tells(Facts.CoreSleeved("brown", CorePolarity.Positive)).FindsNothing(PolaritySleeveMissing.Rule);
    }

    [Fact]
    public void Before_a_core_is_jointed_it_may_be_bare()
    {
        Job.Of(Facts.CablePulled()).FindsNothing(PolaritySleeveMissing.Rule);
    }

    [Fact]
    public void A_spare_core_in_a_joint_needs_no_sleeve()
    {
        Job.Of(
            Facts.CablePulled(cores: [Facts.Core("brown"), Facts.Core("grey", null)]),
            Facts.CoreSleeved("brown", CorePolarity.Positive))
            .Tells(Facts.JointMade(connectors: [Facts.Connector(Facts.Held("brown"), Facts.Held("grey"))]))
            .FindsNothing(PolaritySleeveMissing.Rule);
    }
}
