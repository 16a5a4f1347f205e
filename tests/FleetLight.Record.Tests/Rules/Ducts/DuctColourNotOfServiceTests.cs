using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>Common UK practice by trade summaries; the colour table itself was not seen.</summary>
public sealed class DuctColourNotOfServiceTests
{
    [Theory]
    [InlineData(DuctService.LightingExtraLowVoltage, DuctColour.Black)]
    [InlineData(DuctService.LightingExtraLowVoltage, DuctColour.Orange)]
    [InlineData(DuctService.MainsSupply, DuctColour.Black)]
    [InlineData(DuctService.Water, DuctColour.Blue)]
    [InlineData(DuctService.Gas, DuctColour.Yellow)]
    [InlineData(DuctService.Telecoms, DuctColour.Grey)]
    [InlineData(DuctService.Telecoms, DuctColour.Green)]
    public void The_usual_colours_are_not_found(DuctService service, DuctColour colour) =>
        Job.Of(Facts.DuctLaid(service: service, colour: colour)).FindsNothing(DuctColourNotOfService.Rule);

    [Fact]
    public void A_yellow_duct_for_water_is_found_as_an_observation()
    {
        var finding = Job.Of(Facts.DuctLaid(service: DuctService.Water, colour: DuctColour.Yellow))
            .Finds(DuctColourNotOfService.Rule);

        Assert.Contains("observation", finding.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void What_the_site_calls_for_comes_before_what_is_usual()
    {
        var calls = new DuctCall { Service = DuctService.Water, Colour = DuctColour.Green };

        Job.Of(Facts.SiteOpened(calls: [calls]), Facts.DuctLaid(service: DuctService.Water, colour: DuctColour.Green))
            .FindsNothing(DuctColourNotOfService.Rule)
            .Tells(Facts.DuctLaid("duct-2", DuctService.Water, DuctColour.Blue))
            .Finds(DuctColourNotOfService.Rule);
    }

    [Fact]
    public void A_call_that_arrives_after_the_duct_counts_as_well()
    {
        var calls = new DuctCall { Service = DuctService.Water, Colour = DuctColour.Green };
        var job = Job.Of(Facts.DuctLaid(service: DuctService.Water, colour: DuctColour.Green));
        job.Finds(DuctColourNotOfService.Rule);

        job.Tells(Facts.SiteOpened(calls: [calls])).FindsNothing(DuctColourNotOfService.Rule);
    }

    [Fact]
    public void A_spare_duct_may_have_any_colour()
    {
        Job.Of(Facts.DuctLaid(service: DuctService.Spare, colour: DuctColour.Purple)).FindsNothing(DuctColourNotOfService.Rule);
    }
}
