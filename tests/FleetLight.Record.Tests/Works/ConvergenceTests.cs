using System.Text.Json;
using FleetLight.Contracts.Wire;
using FsCheck;
using FsCheck.Xunit;

namespace FleetLight.Record.Tests.Works;

/// <summary>
/// Law: the same facts in any order, any number of times and in any batches end in the same states, byte for byte.
/// </summary>
public sealed class ConvergenceTests
{
    [Property(MaxTest = 1000, StartSize = 1, EndSize = 80)]
    public void Any_arrival_of_the_same_facts_ends_in_the_same_states(
        PositiveInt size, DoNotSize<int> seed, DoNotSize<int> one, DoNotSize<int> other)
    {
        var history = Histories.Make(size.Get, seed.Item);
        RecordedFact[][] first = Histories.Arrival(history, one.Item), second = Histories.Arrival(history, other.Item);

        var states = Run(first).Json();

        if (Run(second).Json() == states) return;
        Assert.Fail($"{Difference(states, Run(second).Json())}\n{Tell(first)}\n{Tell(second)}");
    }

    internal static WorksModel Run(RecordedFact[][] batches)
    {
        var works = new WorksModel();
        foreach (var batch in batches) works.Take(batch);
        return works;
    }

    internal static string Difference(string one, string other) => string.Join(
        '\n',
        one.Split('\n').Zip(other.Split('\n'))
        .Where(pair => pair.First != pair.Second)
        .Select(pair => $"{pair.First}\n{pair.Second}").Take(3));

    internal static string Tell(RecordedFact[][] batches) => string.Join("\n--\n", batches.Select(batch => string.Join(
        '\n', batch.Select(fact => $"{fact.Of.HappenedAt:dd HH} {fact.Of.Source}#{fact.Of.Id} {JsonSerializer.Serialize(fact.Data, WireJson.Lenient)}"))));
}
