using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>IEC 60364-4-41 414.4.5: 30 V DC in other than dry places.</summary>
public sealed class TouchLimitExceededTests
{
    [Fact]
    public void More_than_30_V_is_a_notice()
    {
        var finding = Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(open: 48))).Finds(TouchLimitExceeded.Rule);

        Assert.Equal(AlertSeverity.Notice, finding.Severity);
    }

    [Fact]
    public void The_limit_itself_is_not_found()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(open: 30))).FindsNothing(TouchLimitExceeded.Rule);
    }

    [Fact]
    public void Above_extra_low_voltage_the_graver_rule_speaks_alone()
    {
        Job.Of(CircuitFacts.Designed(driver: CircuitFacts.Driver(open: 142))).FindsNothing(TouchLimitExceeded.Rule);
    }
}
