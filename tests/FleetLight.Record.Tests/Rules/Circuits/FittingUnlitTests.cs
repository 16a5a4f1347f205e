using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Common practice, no source.</summary>
public sealed class FittingUnlitTests
{
    [Fact]
    public void A_dark_fitting_is_found_until_it_is_energised_without_it()
    {
        var job = Job.Of(CircuitFacts.Designed(), CircuitFacts.Energised(["F2"]));
        job.Finds(FittingUnlit.Rule, "F2");

        job.Tells(CircuitFacts.Energised()).FindsNothing(FittingUnlit.Rule);
    }

    [Fact]
    public void After_a_repair_it_must_be_seen_anew()
    {
        Job.Of(CircuitFacts.Energised(["F2"]), CircuitFacts.Repair()).FindsNothing(FittingUnlit.Rule);
    }
}
