using FleetLight.Record.Rules.Ducts;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Ducts;

/// <summary>NFPA 70 (NEC) 352.26: 360 degrees between pull points.</summary>
public sealed class DuctBendsTooManyTests
{
    [Fact]
    public void More_than_a_full_turn_is_found()
    {
        Job.Of(Facts.DuctLaid(bends: 450)).Finds(DuctBendsTooMany.Rule);
    }

    [Fact]
    public void A_full_turn_will_do()
    {
        Job.Of(Facts.DuctLaid(bends: 360)).FindsNothing(DuctBendsTooMany.Rule);
    }
}
