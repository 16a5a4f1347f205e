using FleetLight.Contracts;
using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Cables;

/// <summary>Common practice, no source.</summary>
public sealed class PolaritySleeveWrongTests
{
    [Fact]
    public void A_core_with_different_sleeves_at_its_ends_is_found_and_sleeving_again_clears_it()
    {
        var job = Job.Of(
            Facts.CablePulled(),
            Facts.CoreSleeved("brown", CorePolarity.Positive, RunEnd.Near),
            Facts.CoreSleeved("brown", CorePolarity.Negative, RunEnd.Far));
        job.Finds(PolaritySleeveWrong.Rule, "ends:brown");

        job.Tells(Facts.CoreSleeved("brown", CorePolarity.Positive, RunEnd.Far)).FindsNothing(PolaritySleeveWrong.Rule);
    }

    [Fact]
    public void Both_cores_of_a_circuit_with_the_same_sleeve_are_found()
    {
        Job.Of(
                Facts.CablePulled(),
                Facts.CoreSleeved("brown", CorePolarity.Negative),
                Facts.CoreSleeved("blue", CorePolarity.Negative))
            .Finds(PolaritySleeveWrong.Rule, "circuit:circuit-1");
    }

    [Fact]
    public void Two_links_of_a_series_circuit_are_right()
    {
        Job.Of(
                Facts.CablePulled(),
                Facts.CoreSleeved("brown", CorePolarity.SeriesLink),
                Facts.CoreSleeved("blue", CorePolarity.SeriesLink))
            .FindsNothing(PolaritySleeveWrong.Rule);
    }

    [Fact]
    public void Positive_and_negative_are_right()
    {
        Job.Of(
                Facts.CablePulled(),
                Facts.CoreSleeved("brown", CorePolarity.Positive),
                Facts.CoreSleeved("blue", CorePolarity.Negative))
            .FindsNothing(PolaritySleeveWrong.Rule);
    }
}
