using FleetLight.Record.Rules.Circuits;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Circuits;

/// <summary>IEC 60364-6 clause 6.4.3.6.</summary>
public sealed class PolarityTestFailedTests
{
    [Fact]
    public void Polarity_found_wrong_is_found_until_a_test_finds_it_right()
    {
        var job = Job.Of(CircuitFacts.Polarity(right: false));
        job.Finds(PolarityTestFailed.Rule, "mains-side");

        job.Tells(CircuitFacts.Polarity(right: true)).FindsNothing(PolarityTestFailed.Rule);
    }
}
