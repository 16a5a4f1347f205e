using FleetLight.Faults.Tests.Load;
using FleetLight.Faults.Tests.Network;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests;

/// <summary>The network between devices and the service drops, delays, cuts, spoils and falls silent.</summary>
[Collection(nameof(OwnPostgres))]
public sealed class NetworkFaultTests(OwnPostgres postgres)
{
    // Of each fault: what the table calls it, and how many connections it has to harm.
    private static readonly (Fault Fault, string Name, int Harms)[] Faults =
    [
        (Fault.Drop, "network drops connections", 20),
        (Fault.Delay, "network delays", 6),
        (Fault.CutRequest, "network cuts the request", 20),
        (Fault.CutAnswer, "network cuts before the answer", 20),
        (Fault.HalfAnswer, "network cuts in the answer", 20),
        (Fault.Garbage, "network answers garbage", 20),
        (Fault.BadGateway, "gateway answers 502", 20),
        (Fault.Silence, "network half-open", 4),
    ];

    [Fact]
    public async Task Every_fault_of_the_network_is_outlived_and_nothing_is_lost_or_doubled()
    {
        string database = await postgres.Node.NewDatabaseAsync();
        await using ServiceNode node = await ServiceNode.StartAsync(database);
        await using FaultProxy network = new(node.Url.Port) { Delay = TimeSpan.FromMilliseconds(400) };
        foreach ((Fault fault, string name, int harms) in Faults)
        {
            using FleetLoad load = await FleetLoad.CreateAsync(
                node.Host, $"crews-{(int)fault}", 3, (int)fault, TimeSpan.FromSeconds(3), new Uri($"http://127.0.0.1:{network.Port}/"));
            load.Begin();
            await load.TakenAsync(2);
            int before = network.Harmed;
            network.Fault = fault;
            await Eventually.IsSoAsync(() => network.Harmed >= before + harms, $"{harms} connections to be harmed");
            network.Fault = Fault.None;
            await load.TakenAsync(2);
            await load.FinishAsync();

            FaultTable.Add(name, network.Harmed - before, await Account.CloseAsync(load, node, database));
            // Where the answer was lost, the facts were kept before it was: sent again, they are known.
            if (fault is Fault.CutAnswer or Fault.HalfAnswer or Fault.Garbage)
                Assert.True(load.Devices.Sum(device => device.Duplicates) > 0, $"Nothing was sent again after {fault}.");
        }
    }
}
