using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Nodes;

namespace FleetLight.Faults.Tests;

/// <summary>Devices whose clocks are a day ahead, back in 1970, or jump from batch to batch.</summary>
[Collection(nameof(OwnPostgres))]
public sealed class ClockTests(OwnPostgres postgres)
{
    private static readonly TimeSpan BackTo1970 = DateTimeOffset.UnixEpoch - DateTimeOffset.UtcNow;

    [Fact]
    public async Task Wrong_clocks_lose_nothing_and_what_they_tell_is_put_right()
    {
        int seed = Environment.TickCount;
        TestContext.Current.TestOutputHelper!.WriteLine($"seed {seed}");
        Random chance = new(seed);
        TimeSpan[] jumps = [TimeSpan.Zero, TimeSpan.FromDays(1), -TimeSpan.FromDays(1), BackTo1970, TimeSpan.FromDays(36500)];
        string database = await postgres.Node.NewDatabaseAsync();
        await using ServiceNode node = await ServiceNode.StartAsync(database);
        DateTimeOffset began = DateTimeOffset.UtcNow;
        using FleetLoad load = await FleetLoad.CreateAsync(
            node.Host, "crews", [() => TimeSpan.FromDays(1), () => BackTo1970, () => jumps[chance.Next(jumps.Length)]], seed, TimeSpan.FromSeconds(20), node.Url);

        load.Begin();
        await load.TakenAsync(30);
        await load.FinishAsync();

        Account account = await Account.CloseAsync(load, node, database);
        FaultTable.Add("device clocks wrong and jumping", 3, account);
        // A clock that is wrong but steady is put right to the moment: the way of the message is all that is left.
        Assert.Equal(["0"], await Account.QueryAsync(
            database,
            "select count(*)::text from fleetlight.mt_events where data -> 'of' ->> 'source' in ('urn:device:0', 'urn:device:1') "
            + $"and (data -> 'of' ->> 'happenedAt')::timestamptz not between '{began.AddSeconds(-5):O}' and '{DateTimeOffset.UtcNow.AddSeconds(5):O}'"));
        // One that jumps may put a fact at a wrong time, but never at one that cannot be.
        Assert.Equal(["0"], await Account.QueryAsync(
            database,
            "select count(*)::text from fleetlight.mt_events where data -> 'of' is not null "
            + "and (data -> 'of' ->> 'happenedAt')::timestamptz not between '2005-01-01' and now() + interval '5 minutes'"));
    }
}
