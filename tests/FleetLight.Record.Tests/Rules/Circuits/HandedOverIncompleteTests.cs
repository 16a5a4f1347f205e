using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Common practice, no source.</summary>
public sealed class HandedOverIncompleteTests
{
    [Fact]
    public void A_handover_without_a_fitting_recorded_is_found_until_it_is()
    {
        var job = Job.Of(
            CircuitFacts.Designed(runs: []), CircuitFacts.Fixed("F1"), CircuitFacts.Connected(), CircuitFacts.Energised(),
            CircuitFacts.HandedOver());
        Assert.Contains("F2", job.Finds(HandedOverIncomplete.Rule).Reason, StringComparison.Ordinal);

        job.Tells(CircuitFacts.Fixed("F2")).FindsNothing(HandedOverIncomplete.Rule);
    }
}
