using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Cables;

/// <summary>BS 7671 522.8.10: a buried cable is armoured or lies in a duct.</summary>
public sealed class CableWithoutDuctTests
{
    [Fact]
    public void A_pull_that_names_no_duct_is_found_and_replacing_it_clears_it()
    {
        var job = new Job();
        var pull = job.TellsOne(Facts.CablePulled(ducts: []));
        job.Finds(CableWithoutDuct.Rule);

        job.Tells(Facts.Replaced(pull, Facts.CablePulled(ducts: ["duct-1"]))).FindsNothing(CableWithoutDuct.Rule);
    }
}
