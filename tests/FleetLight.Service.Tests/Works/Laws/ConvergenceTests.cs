using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using FsCheck;
using FsCheck.Xunit;
using Xunit;

namespace FleetLight.Service.Tests.Works.Laws;

/// <summary>
/// Law: any order and duplication of the same facts, cut into any batches, from any number of devices, ends in the same
/// states, byte for byte. Two services take one history in two ways; their clocks stand, so that even the times of
/// recording are equal.
/// </summary>
public sealed class ConvergenceTests(ConvergenceTests.Pair pair) : IClassFixture<ConvergenceTests.Pair>
{
    private static int cases;

    [Property(MaxTest = 20, StartSize = 20, EndSize = 200)]
    public async Task Any_arrival_of_the_same_facts_ends_in_the_same_states_and_answers(
        PositiveInt size, DoNotSize<int> seed, DoNotSize<int> one, DoNotSize<int> other)
    {
        string name = $"case-{Interlocked.Increment(ref cases)}";
        History history = History.Make(size.Get, seed.Item);

        Organisation[] made = await Task.WhenAll(
            Arrival.ComeAsync(pair.One, name, history, one.Item), Arrival.ComeAsync(pair.Other, name, history, other.Item));

        string[] states = await Dump.StatesAsync(pair.One, name);
        Assert.NotEmpty(states);
        Same(states, await Dump.StatesAsync(pair.Other, name));
        Same(await Dump.AnswersAsync(made[0]), await Dump.AnswersAsync(made[1]));
        Same(await Dump.StandingAsync(made[0]), await Dump.StandingAsync(made[1]));
    }

    [Fact]
    public async Task A_service_that_is_ended_and_started_in_the_middle_ends_in_the_same_states_and_answers()
    {
        History history = History.Make(160, seed: 11);
        await using FleetService restarted = new();
        await restarted.InitializeAsync();

        Organisation undisturbed = await Arrival.ComeAsync(pair.One, "restarted", history, seed: 1);
        Organisation disturbed = await Arrival.ComeAsync(restarted, "restarted", history, seed: 2, between: restarted.RestartAsync);

        Same(await Dump.StatesAsync(pair.One, "restarted"), await Dump.StatesAsync(restarted, "restarted"));
        Same(await Dump.AnswersAsync(undisturbed), await Dump.AnswersAsync(disturbed));
        Same(await Dump.StandingAsync(undisturbed), await Dump.StandingAsync(disturbed));
    }

    private static void Same(string[] one, string[] other)
    {
        string[] first = [.. one.Except(other).Take(3)];
        string[] second = [.. other.Except(one).Take(3)];
        Assert.True(one.SequenceEqual(other), $"Only here:\n{string.Join('\n', first)}\nOnly there:\n{string.Join('\n', second)}");
    }

    /// <summary>Two services with a database each.</summary>
    public sealed class Pair : IAsyncLifetime
    {
        internal FleetService One { get; } = new();

        internal FleetService Other { get; } = new();

        public async ValueTask InitializeAsync()
        {
            await One.InitializeAsync();
            await Other.InitializeAsync();
        }

        public async ValueTask DisposeAsync()
        {
            await One.DisposeAsync();
            await Other.DisposeAsync();
        }
    }
}
