using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Rules.Boxes;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Rules.Boxes;

/// <summary>At most two conductors: common practice, no source.</summary>
public sealed class SeriesConnectorCrowdedTests
{
    private static readonly Connector Three =
        Facts.Connector(Facts.Held("brown"), Facts.Lead("F1"), Facts.Lead("F2"));

    [Fact]
    public void Three_conductors_in_a_series_connector_are_found_and_remaking_the_joint_clears_it()
    {
        var job = Job.Of(Facts.JointMade(connectors: [Three]));
        var finding = job.Finds(SeriesConnectorCrowded.Rule, "joint-1");
        Assert.Equal(AlertSeverity.Serious, finding.Severity);
        Assert.Equal([Facts.Circuit], finding.CircuitIds);

        job.Tells(Facts.JointMade()).FindsNothing(SeriesConnectorCrowded.Rule);
    }

    [Fact]
    public void A_parallel_joint_gathers_as_many_as_it_takes()
    {
        Job.Of(Facts.JointMade(arrangement: JointArrangement.Parallel, connectors: [Three])).FindsNothing(SeriesConnectorCrowded.Rule);
    }
}
