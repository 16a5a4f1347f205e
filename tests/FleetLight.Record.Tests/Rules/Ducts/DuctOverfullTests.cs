using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>Space factor 45 %: IET On-Site Guide.</summary>
public sealed class DuctOverfullTests
{
    [Fact]
    public void Cables_that_fill_more_than_the_space_factor_are_found()
    {
        var finding = Job.Of(Facts.DuctLaid(bore: 20), Facts.CablePulled(diameter: 14)).Finds(DuctOverfull.Rule);

        Assert.Contains("49 %", finding.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void Forty_five_percent_will_do()
    {
        Job.Of(Facts.DuctLaid(bore: 20), Facts.CablePulled(diameter: 13.4)).FindsNothing(DuctOverfull.Rule);
    }

    [Fact]
    public void A_cable_that_moves_to_another_duct_clears_it()
    {
        Job.Of(Facts.DuctLaid(bore: 20), Facts.CablePulled(diameter: 14))
            .Tells(Facts.CablePulled(ducts: ["duct-2"], diameter: 14))
            .FindsNothing(DuctOverfull.Rule);
    }
}
