using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>P at most V²/(4R): algebra of the greatest power transfer.</summary>
public sealed class DesignCannotWorkTests
{
    private static CircuitDesigned Design(double area) => CircuitFacts.Designed(
        drive: DriveKind.ConstantVoltage,
        driver: CircuitFacts.Driver(milliamps: null, volts: 12),
        fittings: [CircuitFacts.Fitting("F1", 50)],
        runs: [CircuitFacts.Run("R1", "driver", "F1", 20, area)]);

    [Fact]
    public void A_load_that_the_cable_cannot_carry_is_found_and_a_larger_conductor_clears_it()
    {
        var job = Job.Of(Design(area: 0.5));
        Assert.Equal(AlertSeverity.Serious, job.Finds(DesignCannotWork.Rule).Severity);
        Assert.NotNull(job.Circuit.ExpectedWhyNot);

        job.Tells(Design(area: 10)).FindsNothing(DesignCannotWork.Rule);
    }
}
