using System.Net.Http.Json;
using System.Text.Json;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Wire;
using FleetLight.FieldAgent.Tests.Agents;
using FleetLight.FieldAgent.Tests.Faults;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Receiving;

/// <summary>What the agent knows of its sites without a connection.</summary>
public sealed class OfflineTests(FieldService service) : IClassFixture<FieldService>
{
    [Fact]
    public async Task Expected_readings_and_verdicts_are_the_services_own_also_without_a_connection()
    {
        var site = $"s-{Guid.NewGuid():N}"[..20];
        var (circuit, duct) = (site + "-c", site + "-d");
        var builder = await service.Organisation.AddDeviceAsync($"/devices/{Guid.NewGuid():N}");
        await builder.TellAsync(
            Facts.SiteOpened(site), Facts.DuctLaid(duct, siteId: site), CircuitFacts.Designed(circuit, siteId: site));
        using var folder = new AgentFolder();
        await using var proxy = new FaultProxy(service.Url);
        var (code, _, _) = await service.IssueCodeAsync(null, site);
        Assert.Equal(0, (await folder.RunAsync("enrol", code, "--service", proxy.Url.ToString())).Code);
        await using (var agent = await folder.StartAsync())
        {
            await Eventually.IsSoAsync(async () => (await agent.Http!.GetAsync($"v1/circuits/{circuit}/expected")).IsSuccessStatusCode, "the circuit to come");
            // A change comes through the feed.
            await builder.TellAsync(CircuitFacts.Designed(
                circuit, fittings: [CircuitFacts.Fitting("f1"), CircuitFacts.Fitting("f2"), CircuitFacts.Fitting("f3")],
                runs: [CircuitFacts.Run("r1", "driver", "f1"), CircuitFacts.Run("r2", "f1", "f2"), CircuitFacts.Run("r3", "f2", "f3")], siteId: site));
            await Eventually.IsSoAsync(
                async () => (await agent.Http!.GetStringAsync($"v1/things/circuit/{circuit}")).Contains("\"f3\"", StringComparison.Ordinal)
                    && (await agent.Http!.GetStringAsync($"v1/circuits/{circuit}/expected")).Contains("\"f3\"", StringComparison.Ordinal), "the change to come");
        }

        proxy.Choose = _ => NetworkFault.Dropped;
        await using var offline = await folder.StartAsync();
        var model = (await service.Organisation.Office.GetAsync($"/v1/circuits/{circuit}/model")).Json;
        var reading = new { place = "driver", quantity = "volts-dc", value = 11.9 };
        var judged = await offline.Http!.PostAsJsonAsync($"v1/circuits/{circuit}/judge", reading, TestContext.Current.CancellationToken);
        var here = (await judged.Content.ReadFromJsonAsync<JsonNode>(TestContext.Current.CancellationToken))!["answer"];
        var there = (await service.Organisation.Office.PostAsync("/v1/calculations/verdict", new
        {
            circuit = model["circuit"],
            assumptions = model["assumptions"],
            rule = model["rule"],
            readings = new[] { reading },
        })).Expect(System.Net.HttpStatusCode.OK).As<VerdictAnswer>();

        Assert.Equal(JsonSerializer.Serialize(there, WireJson.Lenient), JsonSerializer.Serialize(here!.Deserialize<VerdictAnswer>(WireJson.Lenient), WireJson.Lenient));
        Assert.Contains($"{circuit}  Path lights  designed, unread", (await folder.RunAsync("circuits", "--site", site)).Text, StringComparison.Ordinal);
        Assert.Contains("never a certificate", (await folder.RunAsync("judge", circuit, "--value", "11.9")).Text, StringComparison.Ordinal);
        Assert.True((await offline.Http!.GetAsync($"v1/things/duct/{duct}", TestContext.Current.CancellationToken)).IsSuccessStatusCode);
        Assert.Equal(ExitCodes.NotDone, (await folder.RunAsync("judge", "nobody-knows-it", "--value", "11.9")).Code);
    }

    [Fact]
    public async Task A_service_that_was_put_back_to_an_older_state_is_sent_again_what_it_lacks()
    {
        await using var other = new FieldService();
        await other.InitializeAsync();
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        using var folder = new AgentFolder();
        var (key, source) = await service.AddDeviceAsync();
        folder.Become(service.Url, key, source);
        List<int> answered = [];
        await using (var agent = await folder.StartAsync())
        {
            for (var value = 0; value < 30; value++)
            {
                await agent.RecordAsync(Readings.Of(circuit, value));
                answered.Add(value);
            }

            await agent.EmptyAsync();
            Assert.Equal(30, (int)(await agent.StatusAsync())["facts"]!["inHand"]!);
        }

        // The other service stands for this one after a restore: it has the device, and none of its facts.
        string[] scopes = ["post-events", "read-status", "read-as-built"];
        var made = await other.Organisation.Office.PostAsync("/v1/keys", new { name = source, scopes, source });
        folder.Become(other.Url, made.Json["key"]!.GetValue<string>(), source);
        await using var again = await folder.StartAsync();
        var found = await other.FoundAsync(circuit, 30);
        await again.EmptyAsync();
        var row = FaultRow.Of("service put back to an older state", 1, answered, (int)(await again.StatusAsync())["facts"]!["inHand"]!, found);
        FaultTable.Add(row);
        Assert.Equal((30, 30, 0, 0), (row.Receipted, row.Found, row.Lost, row.Doubled));
    }
}
