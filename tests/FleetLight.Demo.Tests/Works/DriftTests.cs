using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Demo.Planning;
using FleetLight.Demo.Works;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;
using FleetLight.Record.Works;

namespace FleetLight.Demo.Tests.Works;

/// <summary>The readings of the demo, judged as the record judges them: what drifts is found, and nothing else.</summary>
public sealed class DriftTests
{
    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void Only_the_joint_that_goes_bad_asks_for_a_visit(long seed)
    {
        var fleet = Some.Fleet(seed);
        List<string> asking = [];
        var looked = 0;
        foreach (var circuit in fleet.Circuits)
        {
            var (basis, readings) = Recorded(fleet, circuit);
            var drift = Judge(basis, readings).Drift ?? [];
            looked += drift.Count;
            if (drift.Any(each => each.AsksForVisit)) asking.Add(circuit.Id);
        }

        Assert.InRange(looked, 100, 200);
        Assert.Equal([fleet.With(Role.JointGoingBad).Id], asking);
    }

    [Theory]
    [MemberData(nameof(FleetTests.Seeds), MemberType = typeof(FleetTests))]
    public void The_joint_asks_for_a_visit_a_month_and_more_before_a_reading_is_outside(long seed)
    {
        var fleet = Some.Fleet(seed);
        var (basis, readings) = Recorded(fleet, fleet.With(Role.JointGoingBad));
        DateTimeOffset? asked = null, outside = null;
        for (var known = 1; known <= readings.Count; known++)
        {
            var view = Judge(basis, readings[..known]);
            if (view.Drift?.Any(each => each.AsksForVisit) == true) asked ??= readings[known - 1].HappenedAt;
            if (view.Verdict == CircuitVerdict.Outside) outside ??= readings[known - 1].HappenedAt;
        }

        Assert.True(asked?.AddDays(27) < outside, $"{asked} {outside}");
    }

    private static CircuitView Judge(CircuitBasis basis, List<ReadingEntry> readings) =>
        CircuitJudge.Judge(basis, ReadingWindow.Of(readings), history: ReadingHistory.Of(readings));

    private static (CircuitBasis Basis, List<ReadingEntry> Readings) Recorded(Fleet fleet, CircuitPlan circuit)
    {
        var itself = new ThingRef(ThingKind.Circuit, circuit.Id);
        var file = ThingFile.Empty(itself.Kind, itself.Id);
        var withdrawn = fleet.Entries().Select(entry => entry.Fact).OfType<FactCorrected>().Select(fact => fact.TargetId).ToHashSet();
        List<ReadingEntry> readings = [];
        foreach (var (entry, number) in fleet.Logs.SelectMany(log => log.Events).Select(each => (each.Entry, each.RunningNumber)))
        {
            var recorded = new RecordedFact(
                new FactOrigin
                {
                    Source = entry.Device.Source,
                    Id = entry.Id,
                    RunningNumber = number,
                    DeviceTime = entry.At,
                    HappenedAt = entry.At,
                    RecordedAt = entry.At,
                    Digest = "",
                },
                entry.Fact);
            if (entry.Fact is ReadingTaken reading)
            {
                if (reading.CircuitId == circuit.Id && !withdrawn.Contains(entry.Id)) readings.Add(ReadingEntry.Of(recorded.Of, reading)!);
            }
            else if (entry.Fact is not FactCorrected && Routing.Touches(entry.Fact).Contains(itself))
            {
                file = file.With(recorded);
            }
        }

        return (CircuitBasisFold.Fold(file, CircuitNeighbours.None), [.. readings.Order(ReadingEntry.InOrder)]);
    }
}
