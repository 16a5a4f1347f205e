using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>The handover pack: handed out by the office page, and sound as a page of its own.</summary>
public sealed class HandoverTests(RunningService service)
{
    [Theory]
    [InlineData("PDF", "pdf", "%PDF-")]
    [InlineData("HTML", "html", "<!DOCTYPE html>")]
    public async Task The_office_page_hands_it_out(string said, string ending, string begins)
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"sites/{Desk.Site}", "Hill terraces");
        var download = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Button, new() { Name = $"Handover pack ({said})" }).ClickAsync());

        Assert.StartsWith($"handover-{Desk.Site}-", download.SuggestedFilename, StringComparison.Ordinal);
        Assert.EndsWith($".{ending}", download.SuggestedFilename, StringComparison.Ordinal);
        var text = System.Text.Encoding.Latin1.GetString(await File.ReadAllBytesAsync((await download.PathAsync())!, TestContext.Current.CancellationToken));
        Assert.StartsWith(begins, text, StringComparison.Ordinal);
        await page.IsSoundAsync();
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task The_file_is_sound_by_itself_and_asks_for_nothing(bool isPhone)
    {
        await using var desk = await Desk.OpenAsync(service);
        // Once the page shows the site, the service has taken its facts in.
        await desk.GoAsync($"sites/{Desk.Site}", "Hill terraces");
        var file = await desk.Organisation.Office.GetAsync($"/v1/sites/{Desk.Site}/handover?format=html");
        var folder = Directory.CreateTempSubdirectory("handover");
        try
        {
            var path = Path.Combine(folder.FullName, "pack.html");
            await File.WriteAllBytesAsync(path, file.Body, TestContext.Current.CancellationToken);
            await using var window = await Browser.OpenAsync(service.Url, isPhone ? Screen.Phone : Screen.Desktop);
            var page = await window.NewPageAsync();
            var asked = new List<string>();
            page.Request += (_, request) => asked.Add(request.Url);
            var complaints = new List<string>();
            page.Console += (_, message) => complaints.Add(message.Text);
            await page.GotoAsync(new Uri(path).AbsoluteUri);

            await Assertions.Expect(page.Locator("h1")).ToHaveTextAsync("Handover pack: Hill terraces");
            await page.IsSoundAsync();
            Assert.Equal([new Uri(path).AbsoluteUri], asked);
            Assert.Empty(complaints);
        }
        finally
        {
            folder.Delete(true);
        }
    }
}
