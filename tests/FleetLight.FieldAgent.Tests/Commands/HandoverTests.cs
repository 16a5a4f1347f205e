using System.Security.Cryptography;
using System.Text;
using FleetLight.FieldAgent.Tests.Agents;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;

namespace FleetLight.FieldAgent.Tests.Commands;

/// <summary>The handover pack of a site by the command line, against the real service.</summary>
public sealed class HandoverTests(FieldService service) : IClassFixture<FieldService>
{
    [Fact]
    public async Task It_is_written_as_what_was_asked_for_to_where_was_said()
    {
        using var folder = await EnrolledAsync();
        string At(string name) => Path.Combine(folder.Path, name);

        var pdf = await folder.RunAsync("handover", Facts.Site, "--output", At("pack.pdf"));
        var letter = await folder.RunAsync("handover", Facts.Site, "--paper", "letter", "--output", At("letter.pdf"));
        var html = await folder.RunAsync("handover", Facts.Site, "--format", "html", "--output", At("pack.html"));
        var json = await folder.RunAsync("handover", Facts.Site, "--format", "json", "--output", At("pack.json"), "--json");
        var facts = await folder.RunAsync("handover", Facts.Site, "--format", "facts", "--output", At("facts.txt"));

        Assert.All([pdf, letter, html, json, facts], ran => Assert.Equal((0, ""), (ran.Code, ran.Errors)));
        Assert.Contains("Advice, never a certificate.", pdf.Text, StringComparison.Ordinal);
        Assert.Equal("%PDF-", Encoding.ASCII.GetString(await ReadAsync("pack.pdf"), 0, 5));
        Assert.Matches(@"/MediaBox\s*\[\s*0 0 612 792\s*\]", Encoding.Latin1.GetString(await ReadAsync("letter.pdf")));
        Assert.StartsWith("<!DOCTYPE html>", Encoding.UTF8.GetString(await ReadAsync("pack.html")), StringComparison.Ordinal);
        var pack = await ReadAsync("pack.json");
        Assert.Equal((At("pack.json"), pack.Length), ((string?)json.Json["file"], (int)json.Json["bytes"]!));
        var digest = System.Text.Json.Nodes.JsonNode.Parse(pack)!["digest"]!;
        Assert.Equal((string?)digest["sha256"], Convert.ToHexStringLower(SHA256.HashData(await ReadAsync("facts.txt"))));
        Assert.Equal(2, digest["facts"]!.AsArray().Count);
        Assert.Empty(Directory.GetFiles(folder.Path, "*.part"));

        Task<byte[]> ReadAsync(string name) => File.ReadAllBytesAsync(At(name), TestContext.Current.CancellationToken);
    }

    [Fact]
    public async Task A_day_of_the_past_is_told_as_it_was()
    {
        using var folder = await EnrolledAsync();
        var file = Path.Combine(folder.Path, "then.json");
        string Day(int back) => DateOnly.FromDateTime(DateTime.Now).AddDays(-back).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);

        Assert.Equal(0, (await folder.RunAsync("handover", Facts.Site, "--as-of", Day(0), "--format", "json", "--output", file)).Code);
        var pack = System.Text.Json.Nodes.JsonNode.Parse(await File.ReadAllTextAsync(file, TestContext.Current.CancellationToken))!;
        Assert.Equal(Day(0), (string?)pack["day"]);
        // Before anything happened there was no site.
        var before = await folder.RunAsync("handover", Facts.Site, "--as-of", Day(4000), "--output", file);
        Assert.Equal(ExitCodes.NotDone, before.Code);
        Assert.Contains("no site with the id", before.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_does_not_work_is_told_in_a_line_and_nothing_is_written()
    {
        using var folder = await EnrolledAsync();
        var file = Path.Combine(folder.Path, "no.pdf");

        await TellsAsync(ExitCodes.NotDone, "no site with the id 'nowhere'", "nowhere", "--output", file);
        await TellsAsync(ExitCodes.NotUnderstood, "'1/2/2026' is no day: write it like 2026-05-04.", Facts.Site, "--as-of", "1/2/2026", "--output", file);
        await TellsAsync(ExitCodes.NotUnderstood, "'doc' not recognized", Facts.Site, "--format", "doc", "--output", file);
        await TellsAsync(ExitCodes.NotDone, "There is no folder", Facts.Site, "--output", Path.Combine(folder.Path, "missing", "no.pdf"));
        await TellsAsync(ExitCodes.NotDone, "is a folder: name a file in it", Facts.Site, "--output", folder.Path);
        folder.Become(new Uri("http://127.0.0.1:9/"), "k.s", "/devices/a");
        await TellsAsync(ExitCodes.NotReached, "", Facts.Site, "--output", file);
        using var other = new AgentFolder();
        var ran = await other.RunAsync("handover", Facts.Site, "--output", file);
        Assert.Equal(ExitCodes.NotEnrolled, ran.Code);
        Assert.False(File.Exists(file));

        async Task TellsAsync(int code, string told, params string[] arguments)
        {
            var refused = await folder.RunAsync(["handover", .. arguments]);
            Assert.Equal((code, ""), (refused.Code, refused.Text));
            Assert.Contains(told, refused.Errors, StringComparison.Ordinal);
            Assert.NotEqual("", refused.Errors);
        }
    }

    // A device of the office, whose site has two facts.
    private async Task<AgentFolder> EnrolledAsync()
    {
        var organisation = await Organisation.CreateAsync(await service.Process.HostAsync());
        var device = await organisation.AddDeviceAsync();
        await device.TellAsync(Facts.SiteOpened(), Facts.DuctLaid());
        await Eventually.IsSoAsync(async () => (await organisation.Office.GetAsync($"/v1/sites/{Facts.Site}")).Status == System.Net.HttpStatusCode.OK, "the site to show");
        var made = (await organisation.Office.PostAsync("/v1/enrolments", new { name = "van 3", role = "device", sites = (string[])[Facts.Site] }))
            .Expect(System.Net.HttpStatusCode.Created).Json;
        var folder = new AgentFolder();
        Assert.Equal(0, (await folder.RunAsync("enrol", (string)made["address"]!)).Code);
        return folder;
    }
}
