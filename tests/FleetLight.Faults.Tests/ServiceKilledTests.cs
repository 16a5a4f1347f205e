using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Nodes;

namespace FleetLight.Faults.Tests;

/// <summary>The service is killed at random moments while devices hand facts in.</summary>
[Collection(nameof(OwnPostgres))]
public sealed class ServiceKilledTests(OwnPostgres postgres)
{
    private const int Times = 50;

    [Fact]
    public async Task Whatever_has_a_receipt_is_there_once_after_every_kill()
    {
        int seed = Environment.TickCount;
        TestContext.Current.TestOutputHelper!.WriteLine($"seed {seed}");
        Random chance = new(seed);
        string database = await postgres.Node.NewDatabaseAsync();
        await using ServiceNode node = await ServiceNode.StartAsync(database);
        using FleetLoad load = await FleetLoad.CreateAsync(node.Host, "crews", 4, seed, TimeSpan.FromSeconds(20), node.Url);

        load.Begin();
        await load.TakenAsync(2);
        for (int kill = 0; kill < Times; kill++)
        {
            await Rest.ForAsync(chance.Next(0, 400));
            await node.KillAsync();
            node.Start();
            // Every fifth time in the middle of its start.
            if (kill % 5 == 4) await Rest.ForAsync(chance.Next(100, 1500));
            else await node.ListensAsync();
        }

        await node.ReadyAsync();
        await load.FinishAsync();
        FaultTable.Add("service killed under load", Times, await Account.CloseAsync(load, node, database));
        await States.SameAsUndisturbedAsync(load, postgres.Node);
    }
}
