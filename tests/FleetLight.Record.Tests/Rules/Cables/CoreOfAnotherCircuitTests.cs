using FleetLight.Record.Rules.Cables;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Cables;

/// <summary>Common practice, no source.</summary>
public sealed class CoreOfAnotherCircuitTests
{
    [Fact]
    public void A_core_in_the_joint_of_another_circuit_is_found_and_correcting_the_joint_clears_it()
    {
        var job = Job.Of(Facts.CablePulled());
        var joint = job.TellsOne(Facts.JointMade(circuitId: "circuit-2"));
        var finding = job.Finds(CoreOfAnotherCircuit.Rule, "joint-1:brown");
        Assert.Equal(["circuit-1", "circuit-2"], finding.CircuitIds);

        job.Tells(Facts.Replaced(joint, Facts.JointMade())).FindsNothing(CoreOfAnotherCircuit.Rule);
    }
}
