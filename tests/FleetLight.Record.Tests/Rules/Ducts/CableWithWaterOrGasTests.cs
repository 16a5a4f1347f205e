using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>Common practice, no source.</summary>
public sealed class CableWithWaterOrGasTests
{
    [Fact]
    public void A_cable_in_a_duct_for_water_is_found()
    {
        var finding = Job.Of(Facts.DuctLaid(service: DuctService.Water, colour: DuctColour.Blue), Facts.CablePulled())
            .Finds(CableWithWaterOrGas.Rule);

        Assert.Equal(AlertSeverity.Serious, finding.Severity);
    }

    [Fact]
    public void An_empty_duct_for_gas_is_as_it_should_be()
    {
        Job.Of(Facts.DuctLaid(service: DuctService.Gas, colour: DuctColour.Yellow)).FindsNothing(CableWithWaterOrGas.Rule);
    }
}
