using FleetLight.Contracts;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>Common practice, no source.</summary>
public sealed class NoStringLeftTests
{
    [Fact]
    public void A_pull_that_leaves_no_string_is_found()
    {
        var finding = Job.Of(Facts.DuctLaid(), Facts.StringLeft(), Facts.CablePulled()).Finds(NoStringLeft.Rule);

        Assert.Equal([Facts.Circuit], finding.CircuitIds);
    }

    [Fact]
    public void A_string_left_after_the_pull_clears_it()
    {
        Job.Of(Facts.CablePulled(), Facts.StringLeft()).FindsNothing(NoStringLeft.Rule);
    }

    [Fact]
    public void A_string_left_in_the_same_minute_counts()
    {
        var crew = new Crew();
        var works = new WorksModel();
        works.Take(crew.Records(Facts.StringLeft(), Crew.Start), crew.Records(Facts.CablePulled(), Crew.Start));

        Assert.DoesNotContain(works.Findings, finding => finding.Rule == NoStringLeft.Rule.Id);
    }

    [Fact]
    public void Ducts_for_water_and_gas_are_left_out()
    {
        Job.Of(Facts.DuctLaid(service: DuctService.Water), Facts.CablePulled()).FindsNothing(NoStringLeft.Rule);
    }
}
