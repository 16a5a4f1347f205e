using System.Collections.Concurrent;
using FleetLight.FieldAgent.Tests.Agents;
using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Faults;

/// <summary>
/// The power goes between any two writes of the agent: the process is killed there. The places are found by a round that lists
/// them, so that a new write cannot be forgotten. What a killed process had written stays with the system, so this shows the
/// order of writes; that they reach the disk itself is SQLite's part, with full synchronisation.
/// </summary>
public sealed class PowerCutTests(FieldService service) : IClassFixture<FieldService>
{
    private const int MostRounds = 6;

    [Fact]
    public async Task What_was_answered_for_arrives_once_wherever_the_power_goes()
    {
        var list = Path.GetTempFileName();
        await using (var round = new Round(service, $"list:{list}"))
        {
            FaultTable.Add(await round.LiveAsync("power: never cut"));
            Assert.Equal(0, round.Restarts);
        }

        var places = (await File.ReadAllLinesAsync(list, TestContext.Current.CancellationToken)).Distinct().Order(StringComparer.Ordinal).ToArray();
        File.Delete(list);
        Assert.All(
            ["record", "send", "settle", "receipt", "mend", "trouble", "hold", "cursor", "site-new", "changes", "received", "site-gone"],
            write => Assert.Contains(places, place => place.StartsWith(write + ".", StringComparison.Ordinal)));

        var rows = new ConcurrentQueue<(string Place, FaultRow Row, int Restarts)>();
        await Parallel.ForEachAsync(places, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (place, _) =>
        {
            // Which facts share a batch is chance, so a round may not come past a place that the list has: it is lived again.
            for (var attempt = 1; attempt <= MostRounds; attempt++)
            {
                await using var round = new Round(service, $"cut:{place}");
                var row = await round.LiveAsync(place);
                if (round.Restarts == 0 && attempt < MostRounds) continue;
                rows.Enqueue((place, row, round.Restarts));
                break;
            }
        });

        foreach (var group in rows.GroupBy(each => each.Place.Split('.')[0]).OrderBy(group => group.Key, StringComparer.Ordinal))
        {
            var all = group.Select(each => each.Row).ToArray();
            FaultTable.Add(new FaultRow(
                $"power: in '{group.Key}', {all.Length} places", group.Sum(each => each.Restarts), all.Sum(row => row.Sent), all.Sum(row => row.Receipted),
                all.Sum(row => row.Found), all.Sum(row => row.Lost), all.Sum(row => row.Doubled)));
        }

        Assert.All(rows, each => Assert.True(each.Restarts == 1, $"{each.Place}: started again {each.Restarts} times."));
        Assert.All(rows, each => Assert.True(
            each.Row is { Lost: 0, Doubled: 0 } && each.Row.Receipted == each.Row.Sent, $"{each.Place}: {each.Row}"));
    }

    [Fact]
    public async Task The_power_goes_while_the_outbox_is_made()
    {
        var list = Path.GetTempFileName();
        using (var folder = new AgentFolder()) Assert.Equal(ExitCodes.Done, (await folder.RunWithAsync($"list:{list}", null, "status")).Code);
        var places = (await File.ReadAllLinesAsync(list, TestContext.Current.CancellationToken)).Distinct().ToArray();
        File.Delete(list);
        Assert.Contains("make.filled", places);
        foreach (var place in places)
        {
            using var folder = new AgentFolder();
            var cut = await folder.RunWithAsync($"cut:{place}", null, "status");
            Assert.NotEqual(ExitCodes.Done, cut.Code);
            Assert.Equal((place, ExitCodes.Done), (place, (await folder.RunAsync("status")).Code));
        }
    }

    [Fact]
    public async Task Two_agents_on_one_outbox_send_one_after_the_other_and_the_second_takes_over_when_the_first_is_killed()
    {
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        using var folder = new AgentFolder();
        var (key, source) = await service.AddDeviceAsync();
        await using var proxy = new FaultProxy(service.Url);
        folder.Become(proxy.Url, key, source);
        await using var one = await folder.StartAsync();
        await Eventually.IsSoAsync(() => one.Log.Contains("Sending as", StringComparison.Ordinal), "the first to send");
        await using var other = await folder.StartAsync();
        List<int> answered = [];
        for (var value = 0; value < 40; value++)
        {
            if (value == 20) await one.CutPowerAsync();
            if (await (value % 2 == 0 && value < 20 ? one : other).RecordAsync(Readings.Of(circuit, value)) is not null) answered.Add(value);
        }

        await other.EmptyAsync();
        var found = await service.FoundAsync(circuit, answered.Count);
        var row = FaultRow.Of("two agents on one outbox, one killed", 1, answered, (int)(await other.StatusAsync())["facts"]!["inHand"]!, found);
        FaultTable.Add(row);

        Assert.Contains("Sending as", other.Log, StringComparison.Ordinal);
        Assert.Equal((40, 40, 0, 0), (row.Receipted, row.Found, row.Lost, row.Doubled));
    }
}
