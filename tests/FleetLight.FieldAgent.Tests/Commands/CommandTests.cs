using FleetLight.FieldAgent.Tests.Agents;

namespace FleetLight.FieldAgent.Tests.Commands;

/// <summary>The command line as a crew uses it, against the real service.</summary>
public sealed class CommandTests(FieldService service) : IClassFixture<FieldService>
{
    private const string Garden = """{"type":"fleetlight.site.opened.v1","data":{"siteId":"s1","name":"Garden"}}""";

    [Fact]
    public async Task Facts_come_from_a_file_from_the_input_and_from_options()
    {
        using var folder = new AgentFolder();
        folder.Become(new Uri("http://127.0.0.1:9/"), "k.s", "/devices/a");
        var file = Path.Combine(folder.Path, "facts.json");
        await File.WriteAllTextAsync(file, $"[{Garden},{Garden}]", TestContext.Current.CancellationToken);

        var fromFile = await folder.RunAsync("record", "--file", file, "--json");
        var fromInput = await folder.RunWithAsync(null, $"{Garden}\n{Garden}\n", "record", "--file", "-");
        var fromOptions = await folder.RunAsync(
            "record", "--type", "fleetlight.site.opened.v1", "--data", """{"siteId":"s1","name":"Garden"}""", "--time", "2026-05-04T07:30:00+02:00");

        Assert.Equal([1, 2], fromFile.Json["facts"]!.AsArray().Select(fact => (int)fact!["number"]!));
        Assert.Equal((0, 0), (fromInput.Code, fromOptions.Code));
        var waiting = await folder.RunAsync("waiting");
        Assert.Equal(5, waiting.Text.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Contains("2026-05-04 07:30:00  fleetlight.site.opened.v1  site s1", waiting.Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("""{"type":"fleetlight.site.opened.v1","data":{"siteId":"s1"}}""", ExitCodes.NotDone, "data.name: These members are missing: name. Add them.")]
    [InlineData("""{"type":"fleetlight.site.opened.v9","data":{}}""", ExitCodes.NotDone, "type: No fact has the type 'fleetlight.site.opened.v9'.")]
    [InlineData("""{"type":"fleetlight.site.opened.v1"}""", ExitCodes.NotUnderstood, "These members are missing: data.")]
    [InlineData("""{"type":"t","data":{},"id":"mine"}""", ExitCodes.NotUnderstood, "There is no such member at id.")]
    [InlineData("""{"type":""", ExitCodes.NotUnderstood, "cannot be read as a fact")]
    [InlineData("", ExitCodes.NotUnderstood, "There is no fact in it.")]
    public async Task What_is_wrong_with_a_fact_is_told_and_nothing_is_recorded(string input, int code, string told)
    {
        using var folder = new AgentFolder();
        folder.Become(new Uri("http://127.0.0.1:9/"), "k.s", "/devices/a");
        var ran = await folder.RunWithAsync(null, input, "record", "--file", "-");
        Assert.Equal(code, ran.Code);
        Assert.Contains(told, ran.Errors, StringComparison.Ordinal);
        Assert.Equal("Nothing waits.\n", (await folder.RunAsync("waiting")).Text);
    }

    [Fact]
    public async Task A_refused_fact_is_told_with_its_reason_mended_and_sent()
    {
        using var folder = new AgentFolder();
        var circuit = $"c-{Guid.NewGuid():N}"[..20];
        await folder.RunAsync("enrol", (await service.IssueCodeAsync()).Address);
        string Data(int value) => $$"""{"siteId":"s1","circuitId":"{{circuit}}","place":"driver","quantity":"volts-dc","value":{{value}}}""";

        Assert.Equal(0, (await folder.RunAsync("record", "--type", "fleetlight.reading.taken.v1", "--data", Data(2_000_000), "--as-it-is")).Code);
        Assert.Equal(0, (await folder.RunAsync("send")).Code);
        var refused = await folder.RunAsync("refused");
        Assert.Contains("data.value:", refused.Text, StringComparison.Ordinal);
        Assert.Contains("1000000", refused.Text, StringComparison.Ordinal);
        Assert.Equal(ExitCodes.NotDone, (await folder.RunAsync("mend", "1", "--data", Data(3_000_000))).Code);
        Assert.Equal(0, (await folder.RunAsync("mend", "1", "--data", Data(12))).Code);
        var sent = await folder.RunAsync("send", "--json");

        Assert.Equal("Nothing was refused.\n", (await folder.RunAsync("refused")).Text);
        Assert.Equal([12.0], await service.FoundAsync(circuit, 1));
        Assert.Equal((2, 0), ((int)sent.Json["receipt"]!["completeThrough"]!, (int)sent.Json["facts"]!["refused"]!));
        Assert.Equal("1", (await folder.RunAsync("show", "2", "--json")).Json["mends"]!.ToString());
    }

    [Fact]
    public async Task A_device_that_is_not_enrolled_is_told_what_to_do()
    {
        using var folder = new AgentFolder();
        var ran = await folder.RunWithAsync(null, Garden, "record", "--file", "-");
        Assert.Equal(ExitCodes.NotEnrolled, ran.Code);
        Assert.Contains("Ask the office for a code", ran.Errors, StringComparison.Ordinal);
        Assert.Equal(ExitCodes.NotUnderstood, (await folder.RunAsync("no-such-command")).Code);
    }
}
