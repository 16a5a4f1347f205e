using FleetLight.Contracts;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>Common practice, no source.</summary>
public sealed class DuctUnlabelledTests
{
    [Fact]
    public void A_duct_with_a_cable_and_no_label_is_found()
    {
        Job.Of(Facts.DuctLaid(), Facts.CablePulled()).Finds(DuctUnlabelled.Rule);
    }

    [Fact]
    public void A_label_at_one_end_clears_it()
    {
        Job.Of(Facts.CablePulled(), Facts.DuctLabelled(end: RunEnd.Far)).FindsNothing(DuctUnlabelled.Rule);
    }

    [Fact]
    public void An_empty_duct_needs_no_label_yet()
    {
        Job.Of(Facts.DuctLaid()).FindsNothing(DuctUnlabelled.Rule);
    }
}
