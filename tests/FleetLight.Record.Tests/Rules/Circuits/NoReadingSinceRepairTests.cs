using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Common practice, no source.</summary>
public sealed class NoReadingSinceRepairTests
{
    [Fact]
    public void A_repair_without_a_reading_since_is_found_and_a_reading_clears_it()
    {
        var job = Job.Of(CircuitFacts.Designed(), CircuitFacts.Reading(9.2), CircuitFacts.Repair());
        job.Finds(NoReadingSinceRepair.Rule);
        Assert.Equal(CircuitVerdict.Unread, job.Circuit.Verdict);

        job.Tells(CircuitFacts.Reading(9.2)).FindsNothing(NoReadingSinceRepair.Rule);
        Assert.Equal(CircuitVerdict.Within, job.Circuit.Verdict);
    }

    [Fact]
    public void The_cause_stays_the_same_when_it_is_repaired_again()
    {
        var job = Job.Of(CircuitFacts.Repair());
        var first = job.Finds(NoReadingSinceRepair.Rule);

        var second = job.Tells(CircuitFacts.Repair()).Finds(NoReadingSinceRepair.Rule);

        Assert.Equal(first.Cause, second.Cause);
        Assert.NotEqual(first.Evidence, second.Evidence);
    }
}
