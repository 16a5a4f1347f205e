using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>IEC 60364-6 table 6.1.</summary>
public sealed class InsulationTooLowTests
{
    [Theory]
    [InlineData(24, false, 0.49, true)]
    [InlineData(24, false, 0.5, false)]
    [InlineData(230, true, 0.99, true)]
    [InlineData(230, true, 1.0, false)]
    [InlineData(690, true, 0.99, true)]
    [InlineData(690, true, 1.0, false)]
    public void Less_than_the_table_asks_for_is_found(double nominalVolts, bool mainsSide, double megohms, bool found)
    {
        var job = Job.Of(CircuitFacts.Insulation(megohms, nominalVolts, 1000, mainsSide));

        if (found) job.Finds(InsulationTooLow.Rule, mainsSide ? "mains-side" : "output-side");
        else job.FindsNothing(InsulationTooLow.Rule);
    }

    [Fact]
    public void A_later_test_that_reaches_it_clears_it()
    {
        Job.Of(CircuitFacts.Insulation(0.5)).Tells(CircuitFacts.Insulation(5)).FindsNothing(InsulationTooLow.Rule);
    }

    [Fact]
    public void The_two_sides_are_found_apart()
    {
        var job = Job.Of(CircuitFacts.Insulation(0.2), CircuitFacts.Insulation(0.2, 24, 250, mainsSide: false));

        job.Finds(InsulationTooLow.Rule, "mains-side");
        job.Finds(InsulationTooLow.Rule, "output-side");
    }
}
