using FleetLight.Contracts;
using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;
using FleetLight.Record.Files;
using FleetLight.Record.Tests.Works;

namespace FleetLight.Record.Tests.Circuits;

/// <summary>What is told of a reading before it is recorded is what the state of the circuit says once it is.</summary>
public sealed class ReadingTrialTests
{
    public static TheoryData<double> Values => [4.4, 8.7, 9.2, 9.9, 11.5, 17, 30, -9.2, 0];

    [Theory]
    [MemberData(nameof(Values))]
    public void The_verdict_and_its_reason_are_the_same(double volts)
    {
        var (basis, window, entry, after) = Told(volts);

        var told = ReadingTrial.Judge(basis, entry);

        Assert.Equal(after.LastReadings[0] with { Fact = told.Fact }, told);
        Assert.Equal(
            after.Together is { } together ? together with { LeastFitting = null } : null,
            ReadingTrial.Together(basis, window, entry) is { } early ? early with { LeastFitting = null } : null);
        Assert.Equal(after.LastReadings.Skip(1), ReadingTrial.Judge(basis, window));
    }

    [Theory]
    [MemberData(nameof(Values))]
    public void The_causes_and_the_next_place_are_the_same(double volts)
    {
        var (basis, window, entry, after) = Told(volts);

        if (ReadingTrial.Question(basis, window, entry) is not { } question)
        {
            Assert.Empty(after.Explanations);
            return;
        }

        Assert.Empty(RequestCheck.Check(question));
        var answer = CalculateNextMeasurement.Answer(question).Answer!;
        Assert.Equal(
            after.Explanations.Select(one => one.Fault),
            answer.Diagnosis!.Explanations.Where(one => one.ProbabilityPercent >= 1).Take(5).Select(one => Words.Of<KindOfFault>(one.Fault)));
        Assert.Equal(after.EnoughMeasured, answer.Stop?.Text);
        if (answer.Stop is not null) return;
        Assert.Equal(
            after.NextReadings.Select(next => (string.Join(' ', next.Places), next.Says)),
            answer.Candidates.Take(3).Select(next => (string.Join(' ', next.Places), next.Text)));
    }

    private static (CircuitBasis Basis, ReadingWindow Window, ReadingEntry Entry, CircuitView After) Told(double volts)
    {
        IFact[] before =
        [
            CircuitFacts.Designed(), CircuitFacts.Connected(CircuitFacts.Driver(milliamps: 350)),
            CircuitFacts.Reading(350, quantity: ReadingQuantity.Milliamps),
        ];
        var job = Job.Of(before);
        var basis = job.Works.BasisOf(Facts.Circuit);
        var window = job.Works.InMemory.WindowOf(Facts.Circuit);
        var recorded = job.TellsOne(CircuitFacts.Reading(volts));
        var entry = ReadingEntry.Of(recorded.Of, recorded.Data)!;
        return (basis, window, entry with { Id = "not-recorded-yet" }, job.Works.InMemory.CircuitOf(Facts.Circuit)!);
    }
}
