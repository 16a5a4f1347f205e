using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Common practice, no source.</summary>
public sealed class DriverBelowRangeTests
{
    [Fact]
    public void Fittings_that_need_less_than_the_driver_regulates_to_are_found()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(least: 20, most: 48))).Finds(DriverBelowRange.Rule);
    }

    [Fact]
    public void A_driver_that_regulates_lower_clears_it()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(least: 20, most: 48)))
            .Tells(CircuitFacts.Connected(CircuitFacts.Driver(least: 3, most: 48)))
            .FindsNothing(DriverBelowRange.Rule);
    }
}
