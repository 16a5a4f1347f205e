using System.Net;
using System.Net.Http.Json;
using System.Text.Json;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Tests.Agents;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Faults;

/// <summary>
/// A day of an agent that comes past every write it has: it is assigned a site, records, sends, is refused a fact and mends it,
/// has trouble on the way, holds a fact that does not pass, and is taken off the site. Started again whenever it has ended.
/// </summary>
internal sealed class Round(FieldService service, string? faults) : IAsyncDisposable
{
    private const int Refused = 2_000_000;
    private readonly string circuit = $"c-{Guid.NewGuid():N}"[..20];
    private readonly string site = $"s-{Guid.NewGuid():N}"[..20];
    private readonly FaultProxy proxy = new(service.Url);
    private readonly AgentFolder folder = new();
    private AgentProcess? agent;
    private bool breaks;

    /// <summary>How often it had to be started after the first time.</summary>
    public int Restarts { get; private set; }

    /// <summary>Lives the day; answers what became of its facts.</summary>
    public async Task<FaultRow> LiveAsync(string name)
    {
        var (key, source) = await service.AddDeviceAsync();
        folder.Become(proxy.Url, key, source);
        proxy.Choose = Choose;
        Assign(site);
        agent = await folder.StartAsync(faults);

        await UntilAsync(async () => (await Alive().StatusAsync())["sites"]!.AsArray().Count == 1);
        await RecordAsync(new SiteOpened { SiteId = site, Name = "Garden" }, "site");
        List<int> answered = [];
        for (var value = 0; value < 3; value++) answered.Add(await RecordAsync(Readings.Of(circuit, value), $"reading {value}", value));
        await UntilAsync(async () => (int)(await Alive().StatusAsync())["facts"]!["waiting"]! == 0);

        breaks = true;
        answered.Add(await RecordAsync(Readings.Of(circuit, 3), "reading 3", 3));
        await RecordAsync(Readings.Of(circuit, Refused), "refused", asItIs: true);
        await UntilAsync(async () => (await Alive().StatusAsync())["facts"] is { } facts && (int)facts["waiting"]! == 0 && (int)facts["refused"]! == 1);
        await MendAsync(999);
        answered.Add(999);
        await RecordAsync(Large(), "large");
        await UntilAsync(async () => (await Alive().StatusAsync())["facts"] is { } facts && (int)facts["waiting"]! == 0 && (int)facts["held"]! == 1);
        await UntilAsync(async () => (await Alive().Http!.GetAsync($"v1/things/site/{site}")).IsSuccessStatusCode);
        Assign();
        await UntilAsync(async () => (await Alive().StatusAsync())["sites"]!.AsArray().Count == 0);

        var found = await service.FoundAsync(circuit, answered.Count);
        var receipted = (int)(await agent.StatusAsync())["facts"]!["inHand"]! - 1;
        return FaultRow.Of(name, 1, answered, receipted, found);
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        if (agent is not null) await agent.DisposeAsync();
        await proxy.DisposeAsync();
        folder.Dispose();
    }

    // The gateway lets nothing pass that is as large as the large fact, and fails once.
    private NetworkFault Choose(string line)
    {
        if (!line.StartsWith("POST /v1/events", StringComparison.Ordinal)) return NetworkFault.None;
        if (!breaks) return NetworkFault.TooLarge;
        breaks = false;
        return NetworkFault.CutBeforeAnswer;
    }

    private CircuitDesigned Large()
    {
        string[] fittings = [.. Enumerable.Range(1, 60).Select(number => $"f{number:D2}")];
        return CircuitFacts.Designed(
            circuit + "-large", fittings: [.. fittings.Select(id => CircuitFacts.Fitting(id))],
            runs: [.. fittings.Select((id, index) => CircuitFacts.Run($"r{index}", index == 0 ? "driver" : fittings[index - 1], id))], siteId: site);
    }

    private void Assign(params string[] sites) => proxy.Instead["GET /v1/devices/self/sites"] = JsonSerializer.Serialize(new { sites });

    private AgentProcess Alive() => agent is { HasEnded: false, Http: not null } ? agent : throw new HttpRequestException("It has ended.");

    private async Task<int> RecordAsync(IFact fact, string reference, int value = 0, bool asItIs = false)
    {
        await UntilAsync(async () => await Alive().RecordAsync(fact, reference, asItIs) == HttpStatusCode.Created);
        return value;
    }

    private Task MendAsync(int value) => UntilAsync(async () =>
    {
        // A mend that was written but not answered for shows in the list: nothing is refused any more.
        var refused = (await Alive().Http!.GetFromJsonAsync<JsonElement>("v1/facts?state=refused")).GetProperty("facts");
        if (refused.GetArrayLength() == 0) return true;
        using var answer = await Alive().Http!.PostAsJsonAsync(
            $"v1/facts/{refused[0].GetProperty("number").GetInt32()}/mend", new { data = JsonSerializer.SerializeToElement(Readings.Of(circuit, value), WireJson.Strict) });
        return answer.IsSuccessStatusCode;
    });

    private Task UntilAsync(Func<Task<bool>> isSo) => Eventually.IsSoAsync(async () =>
    {
        try
        {
            return await isSo();
        }
        catch (Exception failed) when (failed is HttpRequestException or IOException or TaskCanceledException)
        {
            if (agent is { HasEnded: false, Http: not null }) return false;
            if (agent is not null) await agent.DisposeAsync();
            agent = await folder.StartAsync();
            Restarts++;
            return false;
        }
    }, $"the next thing of a round with {faults}");
}
