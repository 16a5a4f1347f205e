using System.Collections.Concurrent;
using System.Net;
using System.Text.Json;
using FleetLight.FieldAgent.Identity;
using FleetLight.FieldAgent.Tests.Agents;
using FleetLight.FieldAgent.Tests.Faults;
using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Enrolment;

/// <summary>Enrolment by the office's code, rotation, and a lost device, with the real service.</summary>
public sealed class EnrolmentTests(FieldService service) : IClassFixture<FieldService>
{
    [Fact]
    public async Task A_code_makes_the_folder_that_of_a_device_and_nothing_tells_the_key()
    {
        using var folder = new AgentFolder();
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        var (code, address, source) = await service.IssueCodeAsync();

        var enrolled = await folder.RunAsync("enrol", address, "--json");
        Assert.Equal((ExitCodes.Done, source), (enrolled.Code, (string?)enrolled.Json["source"]));
        var key = KeyOf(folder);
        var recorded = await folder.RunAsync("record", "--type", "fleetlight.reading.taken.v1", "--data", Reading(circuit, 5));
        var sent = await folder.RunAsync("send");

        Assert.Equal((0, 0), (recorded.Code, sent.Code));
        Assert.Equal([5.0], await service.FoundAsync(circuit, 1));
        Assert.All([enrolled, recorded, sent, await folder.RunAsync("status", "--json")], ran => Assert.DoesNotContain(key, ran.Text + ran.Errors, StringComparison.Ordinal));
        Assert.DoesNotContain(code, enrolled.Text + enrolled.Errors, StringComparison.Ordinal);
        foreach (var name in (string[])["identity.json", "outbox.db"])
            Assert.True(folder.IsPrivate(name), name);

        var again = await folder.RunAsync("enrol", code, "--service", service.Url.ToString());
        Assert.Equal(ExitCodes.NotReached, again.Code);
        Assert.Equal(key, KeyOf(folder));
    }

    [Theory]
    [InlineData("http://192.0.2.7:5080/", false)]
    [InlineData("http://fleetlight.example/", false)]
    [InlineData("http://127.0.0.1.fleetlight.example/", false)]
    [InlineData("http://[2001:db8::1]/", false)]
    [InlineData("https://fleetlight.example/", true)]
    [InlineData("http://127.0.0.1:5080/", true)]
    [InlineData("http://[::1]:5080/", true)]
    [InlineData("http://localhost:5080/", true)]
    public void Plain_http_is_for_this_machine_only(string address, bool guarded) => Assert.Equal(guarded, Enrolling.IsGuarded(new Uri(address)));

    [Fact]
    public async Task A_code_does_not_travel_in_plain_to_another_machine_unless_that_is_asked_for()
    {
        using var folder = new AgentFolder();
        // Kept for documentation by RFC 2606: no such name is ever found.
        string[] enrol = ["enrol", "http://nowhere.invalid/enrol#7K2M-Q4RT-9XWB"];
        var refused = await folder.RunAsync(enrol);
        var asked = await folder.RunAsync([.. enrol, "--allow-plain-http"]);

        Assert.Equal(ExitCodes.NotDone, refused.Code);
        Assert.Contains("http://nowhere.invalid/ is plain http to another machine", refused.Errors, StringComparison.Ordinal);
        Assert.Contains("--allow-plain-http", refused.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("7K2M", refused.Errors, StringComparison.Ordinal);
        Assert.Equal(ExitCodes.NotReached, asked.Code);
    }

    [Fact]
    public async Task A_new_key_takes_the_place_of_the_old_one_while_the_agent_runs()
    {
        using var folder = new AgentFolder();
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        await folder.RunAsync("enrol", (await service.IssueCodeAsync()).Address);
        var old = KeyOf(folder);
        await using var agent = await folder.StartAsync();
        await agent.RecordAsync(Readings.Of(circuit, 1));
        await agent.EmptyAsync();

        Assert.Equal(ExitCodes.Done, (await folder.RunAsync("new-key")).Code);
        await agent.RecordAsync(Readings.Of(circuit, 2));
        await agent.EmptyAsync();

        Assert.NotEqual(old, KeyOf(folder));
        Assert.Equal([1.0, 2.0], (await service.FoundAsync(circuit, 2)).Order());
        await Eventually.IsSoAsync(
            async () => (await service.Organisation.Office.With(old).GetAsync("/v1/devices/self/receipts")).Status == HttpStatusCode.Unauthorized, "the old key to end");
        Assert.DoesNotContain(KeyOf(folder), agent.Log, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_lost_device_sends_no_more_and_a_new_code_for_it_sends_what_waited()
    {
        using var folder = new AgentFolder();
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        var (_, address, source) = await service.IssueCodeAsync();
        await folder.RunAsync("enrol", address);
        await using var agent = await folder.StartAsync();
        await agent.RecordAsync(Readings.Of(circuit, 1));
        await agent.EmptyAsync();

        (await service.Organisation.Office.PostAsync($"/v1/devices/{Uri.EscapeDataString(source)}/lost")).Expect(HttpStatusCode.OK);
        await agent.RecordAsync(Readings.Of(circuit, 2));
        await Eventually.IsSoAsync(
            async () => ((string?)(await agent.StatusAsync())["trouble"])?.Contains("does not take", StringComparison.Ordinal) == true, "the agent to say so");
        Assert.Equal([1.0], await service.ReadAsync(circuit));
        Assert.Contains("enrol again", (await folder.RunAsync("status")).Text, StringComparison.Ordinal);

        Assert.Equal(ExitCodes.Done, (await folder.RunAsync("enrol", (await service.IssueCodeAsync(source)).Address)).Code);
        await agent.EmptyAsync();
        Assert.Equal([1.0, 2.0], (await service.FoundAsync(circuit, 2)).Order());
    }

    [Fact]
    public async Task A_code_for_another_device_does_not_mix_two_devices_facts()
    {
        using var folder = new AgentFolder();
        await folder.RunAsync("enrol", (await service.IssueCodeAsync()).Address);
        var key = KeyOf(folder);
        var other = await service.IssueCodeAsync();

        var ran = await folder.RunAsync("enrol", other.Address);

        Assert.Equal(ExitCodes.NotReached, ran.Code);
        Assert.Contains("a folder of its own", ran.Errors, StringComparison.Ordinal);
        Assert.Equal(key, KeyOf(folder));
        Assert.True(File.Exists(Path.Combine(folder.Path, "other-device", "identity.json")));
    }

    // A key that was given and not kept is lost with its code; what the outbox holds never is.
    [Fact]
    public async Task The_power_goes_while_the_device_is_enrolled_again()
    {
        var list = Path.GetTempFileName();
        var first = await service.IssueCodeAsync();
        using (var folder = new AgentFolder())
        {
            await folder.RunAsync("enrol", first.Address);
            Assert.Equal(0, (await folder.RunWithAsync($"list:{list}", null, "enrol", (await service.IssueCodeAsync(first.Source)).Address)).Code);
        }

        var places = (await File.ReadAllLinesAsync(list, TestContext.Current.CancellationToken)).Distinct().ToArray();
        File.Delete(list);
        Assert.Contains("enrol.answered", places);
        Assert.Contains("identity.flushed", places);
        var rows = new ConcurrentQueue<FaultRow>();
        // Several at once: most of the time they wait.
        await Parallel.ForEachAsync(places, new ParallelOptions { MaxDegreeOfParallelism = 4 }, async (place, _) =>
        {
            using var folder = new AgentFolder();
            var circuit = $"c-{Guid.NewGuid():N}"[..20];
            var device = await service.IssueCodeAsync();
            await folder.RunAsync("enrol", device.Address);
            Assert.Equal(0, (await folder.RunAsync("record", "--type", "fleetlight.reading.taken.v1", "--data", Reading(circuit, 1))).Code);
            Assert.NotEqual(0, (await folder.RunWithAsync($"cut:{place}", null, "enrol", (await service.IssueCodeAsync(device.Source)).Address)).Code);

            Assert.Equal((place, 0), (place, (await folder.RunAsync("enrol", (await service.IssueCodeAsync(device.Source)).Address)).Code));
            Assert.Equal((place, 0), (place, (await folder.RunAsync("send")).Code));
            rows.Enqueue(FaultRow.Of(place, 1, [1], (int)(await folder.RunAsync("status", "--json")).Json["facts"]!["inHand"]!, await service.FoundAsync(circuit, 1)));
        });

        FaultTable.Add(new FaultRow($"power: in 'enrol', {places.Length} places", rows.Count, rows.Sum(row => row.Sent), rows.Sum(row => row.Receipted),
            rows.Sum(row => row.Found), rows.Sum(row => row.Lost), rows.Sum(row => row.Doubled)));
        Assert.All(rows, row => Assert.True(row is { Receipted: 1, Found: 1, Lost: 0, Doubled: 0 }, row.ToString()));
    }

    [Theory]
    [InlineData("ABCD-EFGH-JKMN", null, null, "ABCD-EFGH-JKMN")]
    [InlineData(" abcd efgh jkmn ", "http://127.0.0.1:1", "http://127.0.0.1:1/", "abcd efgh jkmn")]
    [InlineData("https://light.example/fleet/enrol#ABCD-EFGH-JKMN", null, "https://light.example/fleet/", "ABCD-EFGH-JKMN")]
    [InlineData("https://light.example/enrol#ABCD-EFGH-JKMN", "https://other.example", "https://other.example/", "ABCD-EFGH-JKMN")]
    public void A_code_is_read_alone_or_with_its_address(string text, string? service, string? address, string code) =>
        Assert.Equal((address is null ? null : new Uri(address), code), Enrolling.Read(text, service)!.Value);

    [Theory]
    [InlineData("ftp://light.example/enrol#ABCD", null)]
    [InlineData("", null)]
    [InlineData("ABCD", "light")]
    public void What_is_no_code_or_no_address_is_not_taken(string text, string? service) => Assert.Null(Enrolling.Read(text, service));

    private static string Reading(string circuit, int value) =>
        JsonSerializer.Serialize(Readings.Of(circuit, value), Contracts.Wire.WireJson.Strict);

    private static string KeyOf(AgentFolder folder) =>
        JsonDocument.Parse(File.ReadAllText(Path.Combine(folder.Path, "identity.json"))).RootElement.GetProperty("key").GetString()!;
}
