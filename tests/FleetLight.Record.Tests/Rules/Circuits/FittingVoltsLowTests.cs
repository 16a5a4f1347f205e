using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>Ohm's law; the least voltage is the fitting's own.</summary>
public sealed class FittingVoltsLowTests
{
    private static CircuitDesigned Design(double area) => CircuitFacts.Designed(
        drive: DriveKind.ConstantVoltage,
        driver: CircuitFacts.Driver(milliamps: null, volts: 12),
        fittings: [CircuitFacts.Fitting("F1", 10, least: 11)],
        runs: [CircuitFacts.Run("R1", "driver", "F1", 40, area)]);

    [Fact]
    public void A_fitting_that_gets_less_than_it_needs_is_found_and_a_larger_conductor_clears_it()
    {
        var job = Job.Of(Design(area: 0.5));
        job.Finds(FittingVoltsLow.Rule, "F1");

        job.Tells(Design(area: 10)).FindsNothing(FittingVoltsLow.Rule);
    }
}
