using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>90 % of the driver: common practice, no source.</summary>
public sealed class DriverAtLimitTests
{
    [Fact]
    public void A_design_near_the_drivers_greatest_volts_is_found()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 9.8))).Finds(DriverAtLimit.Rule);
    }

    [Fact]
    public void A_design_beyond_the_driver_is_serious()
    {
        var finding = Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 6))).Finds(DriverAtLimit.Rule);

        Assert.Equal(AlertSeverity.Serious, finding.Severity);
    }

    [Fact]
    public void A_driver_with_room_clears_it()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 9.8)))
            .Tells(CircuitFacts.Connected(CircuitFacts.Driver(most: 48)))
            .FindsNothing(DriverAtLimit.Rule);
    }

    [Fact]
    public void A_reading_near_the_drivers_greatest_volts_is_found_where_the_design_leaves_room()
    {
        var finding = Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 48)), CircuitFacts.Reading(47))
            .Finds(DriverAtLimit.Rule);

        Assert.Equal(["crew-a#f2"], finding.Evidence);
    }
}
