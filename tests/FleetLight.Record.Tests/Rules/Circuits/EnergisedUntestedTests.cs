using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>IEC 60364-6 (6.4.3): dead tests come first.</summary>
public sealed class EnergisedUntestedTests
{
    [Fact]
    public void A_mains_side_energised_without_a_test_is_found_and_a_test_clears_it()
    {
        var job = Job.Of(CircuitFacts.Designed(mainsSide: true), CircuitFacts.Energised());
        job.Finds(EnergisedUntested.Rule);

        job.Tells(CircuitFacts.Insulation(200)).FindsNothing(EnergisedUntested.Rule);
    }

    [Fact]
    public void Without_a_mains_side_no_test_is_asked_for()
    {
        Job.Of(CircuitFacts.Designed(), CircuitFacts.Energised()).FindsNothing(EnergisedUntested.Rule);
    }
}
