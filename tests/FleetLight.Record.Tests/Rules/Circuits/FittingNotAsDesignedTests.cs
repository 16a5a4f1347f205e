using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Common practice, no source.</summary>
public sealed class FittingNotAsDesignedTests
{
    [Fact]
    public void A_plate_of_another_wattage_is_found_and_the_fitting_designed_clears_it()
    {
        var job = Job.Of(CircuitFacts.Designed(), CircuitFacts.Fixed("F1", watts: 2.6));
        job.Finds(FittingNotAsDesigned.Rule, "F1");

        job.Tells(CircuitFacts.Fixed("F1", watts: 1.6)).FindsNothing(FittingNotAsDesigned.Rule);
    }

    [Fact]
    public void A_change_of_the_design_clears_it()
    {
        Job.Of(CircuitFacts.Designed(), CircuitFacts.Fixed("F1", watts: 2.6))
            .Tells(CircuitFacts.Designed(fittings: [CircuitFacts.Fitting("F1", 2.6), CircuitFacts.Fitting("F2")]))
            .FindsNothing(FittingNotAsDesigned.Rule);
    }

    [Fact]
    public void Within_the_tolerance_it_is_as_designed()
    {
        Job.Of(CircuitFacts.Designed(), CircuitFacts.Fixed("F1", watts: 1.67)).FindsNothing(FittingNotAsDesigned.Rule);
    }
}
