using FleetLight.Contracts;
using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>450 mm: a UK network operator's cable specification; BS 7671 522.8.10 gives no number.</summary>
public sealed class MainsDuctShallowTests
{
    [Fact]
    public void A_mains_duct_with_less_cover_is_found()
    {
        Job.Of(Facts.DuctLaid(service: DuctService.MainsSupply, depth: 300)).Finds(MainsDuctShallow.Rule);
    }

    [Fact]
    public void Enough_cover_or_extra_low_voltage_will_do()
    {
        Job.Of(Facts.DuctLaid(service: DuctService.MainsSupply, depth: 450), Facts.DuctLaid("duct-2", depth: 100))
            .FindsNothing(MainsDuctShallow.Rule);
    }
}
