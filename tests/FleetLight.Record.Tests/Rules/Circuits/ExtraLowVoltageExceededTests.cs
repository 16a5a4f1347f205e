using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>IEC 61140 and IEC 60364-4-41: extra-low voltage ends at 120 V DC.</summary>
public sealed class ExtraLowVoltageExceededTests
{
    [Fact]
    public void An_open_output_above_120_V_is_found_and_another_driver_clears_it()
    {
        var job = Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(open: 142)));
        Assert.Equal(AlertSeverity.Serious, job.Finds(ExtraLowVoltageExceeded.Rule).Severity);

        job.Tells(CircuitFacts.Connected(CircuitFacts.Driver(open: 60))).FindsNothing(ExtraLowVoltageExceeded.Rule);
    }

    [Fact]
    public void The_limit_itself_is_still_extra_low()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(open: 120))).FindsNothing(ExtraLowVoltageExceeded.Rule);
    }

    [Fact]
    public void Without_a_recorded_open_output_the_top_of_the_range_counts()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(most: 142))).Finds(ExtraLowVoltageExceeded.Rule);
    }
}
