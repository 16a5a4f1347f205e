using FleetLight.Contracts;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Boxes;

/// <summary>Common practice, no source.</summary>
public sealed class MembraneWithoutStrainReliefTests
{
    [Fact]
    public void A_membrane_that_holds_the_cables_alone_is_found_and_holding_them_clears_it()
    {
        var job = Job.Of(Facts.BoxSealed(entry: BoxEntry.Membrane, strainRelief: false));
        job.Finds(MembraneWithoutStrainRelief.Rule);

        job.Tells(Facts.BoxSealed(entry: BoxEntry.Membrane, strainRelief: true)).FindsNothing(MembraneWithoutStrainRelief.Rule);
    }

    [Fact]
    public void Glands_hold_the_cables_themselves()
    {
        Job.Of(Facts.BoxSealed(entry: BoxEntry.Glands, strainRelief: false)).FindsNothing(MembraneWithoutStrainRelief.Rule);
    }
}
