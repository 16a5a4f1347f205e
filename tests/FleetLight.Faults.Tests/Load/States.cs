using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Faults.Tests.Nodes;
using FleetLight.Testing.Service;

namespace FleetLight.Faults.Tests.Load;

/// <summary>What a service answers about everything that a load recorded, to compare with one that had no trouble.</summary>
internal static class States
{
    /// <summary>
    /// Hands the same facts to a service of its own that nothing disturbs, and compares all answers. What only says when
    /// something arrived is left out.
    /// </summary>
    public static async Task SameAsUndisturbedAsync(FleetLoad load, PostgresNode postgres)
    {
        string[] paths = [.. PathsOf(load)];
        string[] disturbed = await AnswersAsync(load.Organisation, paths);
        await using ServiceNode quiet = await ServiceNode.StartAsync(await postgres.NewDatabaseAsync());
        Organisation organisation = await Organisation.CreateAsync(quiet.Host, load.Organisation.Name);
        foreach (HonestDevice device in load.Devices)
        {
            Device twin = await organisation.AddDeviceAsync(device.Source);
            foreach (SentEvent[] batch in device.Recorded.Chunk(500)) await twin.SendAsync(batch);
        }

        await quiet.CaughtUpAsync();
        Assert.Equal(await AnswersAsync(organisation, paths), disturbed);
    }

    private static IEnumerable<string> PathsOf(FleetLoad load)
    {
        yield return "/v1/fleet";
        for (int index = 0; index < load.Devices.Length; index++)
        {
            yield return $"/v1/circuits/circuit-{index}";
            yield return $"/v1/circuits/circuit-{index}/readings?limit=1000";
            yield return $"/v1/sites/site-{index}/as-built";
        }
    }

    private static async Task<string[]> AnswersAsync(Organisation organisation, string[] paths)
    {
        List<string> answers = [];
        foreach (string path in paths)
        {
            JsonNode answer = (await organisation.Office.GetAsync(path)).Expect(HttpStatusCode.OK).Json;
            WhenArrived.Forget(answer);
            answers.Add($"{path} {answer.ToJsonString()}");
        }

        List<string> standing = [];
        foreach (JsonNode? alert in (await organisation.Office.GetAsync("/v1/alerts?limit=1000")).Expect(HttpStatusCode.OK).Json["items"]!.AsArray())
            standing.Add($"{alert!["id"]} {alert["finding"]!.ToJsonString()}");
        return [.. answers, .. standing.Order(StringComparer.Ordinal)];
    }
}
