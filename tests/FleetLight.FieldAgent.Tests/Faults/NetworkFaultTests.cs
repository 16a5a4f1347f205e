using System.Net;
using FleetLight.FieldAgent.Tests.Agents;

namespace FleetLight.FieldAgent.Tests.Faults;

/// <summary>The agent on a network that fails, against the real service: what a writer was answered for arrives, once.</summary>
public sealed class NetworkFaultTests(FieldService service) : IClassFixture<FieldService>
{
    private const int Facts = 60;
    private const int Faults = 4;

    // Several at once: most of the time they wait.
    [Fact]
    public async Task What_was_answered_for_arrives_once_whatever_the_network_does()
    {
        var ways = Enum.GetValues<NetworkFault>().Where(fault => fault != NetworkFault.None).Select(OneKind).Append(Mixed());
        await Parallel.ForEachAsync(ways, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (way, _) => await RunAsync(way));
    }

    private static Way OneKind(NetworkFault fault)
    {
        // Too late and silence cost the agent its whole patience each time.
        var most = fault is NetworkFault.TooLate or NetworkFault.Silent ? 2 : Faults;
        var tried = 0;
        return new Way($"network: {fault}", line =>
        {
            if (!line.StartsWith("POST /v1/events", StringComparison.Ordinal) || tried >= most) return NetworkFault.None;
            tried++;
            return fault;
        }, () => tried);
    }

    private static Way Mixed()
    {
        var kinds = Enum.GetValues<NetworkFault>().Where(fault => fault is not (NetworkFault.TooLate or NetworkFault.Silent or NetworkFault.Late)).ToArray();
        var chance = new Random(20251125);
        var tried = 0;
        var use = new Lock();
        return new Way("network: any of them, two of three requests", _ =>
        {
            lock (use)
            {
                if (tried >= 40 || chance.Next(3) == 0) return NetworkFault.None;
                tried++;
                return kinds[chance.Next(kinds.Length)];
            }
        }, () => tried);
    }

    private async Task RunAsync(Way way)
    {
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        await using var proxy = new FaultProxy(service.Url) { Choose = way.Choose };
        using var folder = new AgentFolder();
        var (key, source) = await service.AddDeviceAsync();
        folder.Become(proxy.Url, key, source);
        await using var agent = await folder.StartAsync(null, ("TRY_SECONDS", "3"));
        var answered = new List<int>();
        for (var value = 0; value < Facts; value++)
        {
            if (await agent.RecordAsync(Readings.Of(circuit, value)) == HttpStatusCode.Created) answered.Add(value);
            if (value % 10 == 9) await Task.Delay(50, TestContext.Current.CancellationToken);
        }

        await agent.EmptyAsync();
        var found = await service.FoundAsync(circuit, answered.Count);
        var receipted = (int)(await agent.StatusAsync())["facts"]!["inHand"]!;
        var row = FaultRow.Of(way.Name, way.Tried(), answered, receipted, found);
        FaultTable.Add(row);

        Assert.Equal(Facts, answered.Count);
        Assert.True(way.Tried() > 0, $"{way.Name} was never tried.");
        Assert.Equal((Facts, Facts, 0, 0), (row.Receipted, row.Found, row.Lost, row.Doubled));
        Assert.Equal(Facts, found.Count);
        Assert.DoesNotContain(key, agent.Log, StringComparison.Ordinal);
    }

    private sealed record Way(string Name, Func<string, NetworkFault> Choose, Func<int> Tried);
}
