using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Common practice, no source.</summary>
public sealed class HandedOverWithOpenFaultsTests
{
    [Fact]
    public void An_open_fault_at_the_handover_is_found_and_the_repair_that_names_it_clears_it()
    {
        var job = Job.Of(CircuitFacts.Fault(), CircuitFacts.HandedOver());
        Assert.Equal(["crew-a#f2", "crew-a#f1"], job.Finds(HandedOverWithOpenFaults.Rule).Evidence);

        job.Tells(CircuitFacts.Repair(["fault-1"])).FindsNothing(HandedOverWithOpenFaults.Rule);
    }

    [Fact]
    public void A_fault_reported_afterwards_is_no_fault_of_the_handover()
    {
        Job.Of(CircuitFacts.HandedOver(), CircuitFacts.Fault()).FindsNothing(HandedOverWithOpenFaults.Rule);
    }
}
