using System.Globalization;
using System.Text.RegularExpressions;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Field;

/// <summary>Labels are chosen, looked at, and come out of the printer in their true size.</summary>
public sealed partial class LabelsTests(RunningService service)
{
    // CSS: an inch has 96 pixels.
    private const double PixelsPerMillimetre = 96 / 25.4;

    [Fact]
    public async Task They_print_in_their_true_size()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone);
        var page = phone.Page;
        await page.GotoAsync("/field/labels");
        await page.StartedAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Ducts" }).GetByRole(AriaRole.Button, new() { Name = "All of them" }).ClickAsync();
        await page.GetByLabel("Box by the steps").CheckAsync();
        await page.GetByLabel("Width of the tape").SelectOptionAsync("24");

        await Expect(page.Locator("figure.label svg")).ToHaveCountAsync(3);
        await page.IsSoundOnAsync("labels", Screen.Phone);

        await page.EmulateMediaAsync(new() { Media = Media.Print });
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Print" })).ToBeHiddenAsync();
        await Expect(page.GetByRole(AriaRole.Navigation)).ToBeHiddenAsync();
        foreach (var svg in await page.Locator("figure.label svg").AllAsync())
        {
            var box = (await svg.BoundingBoxAsync())!;
            Assert.Equal(24 * PixelsPerMillimetre, box.Height, 0.6);
            var width = Millimetres().Match(await svg.GetAttributeAsync("width") ?? "");
            Assert.Equal(double.Parse(width.Groups[1].Value, CultureInfo.InvariantCulture) * PixelsPerMillimetre, box.Width, 0.6);
        }

        Assert.Equal(50 * PixelsPerMillimetre, (await page.Locator(".bar").BoundingBoxAsync())!.Width, 0.6);
        await page.PictureAsync("labels-print");
    }

    [Fact]
    public async Task With_a_signal_they_come_as_PDF_from_the_service()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone);
        var page = phone.Page;
        await page.TurnToAsync("labels?about=box%2Fb1", "Labels");
        await Expect(page.Locator("figure.label svg")).ToHaveCountAsync(1);

        var saved = await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Button, new() { Name = "Save as PDF" }).ClickAsync());

        Assert.Equal($"labels-{GardenPhone.Site}.pdf", saved.SuggestedFilename);
        await using var bytes = await saved.CreateReadStreamAsync();
        using var reader = new StreamReader(bytes);
        Assert.StartsWith("%PDF-", await reader.ReadToEndAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        await phone.Window.SetOfflineAsync(true);
        await Expect(page.GetByRole(AriaRole.Button, new() { Name = "Save as PDF" })).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task A_label_of_a_site_that_was_never_fetched_leads_there()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone);
        var page = phone.Page;
        var crew = await phone.Organisation.AddDeviceAsync();
        await crew.TellAsync(
            new Contracts.Facts.SiteOpened { SiteId = "s-far", Name = "The far field" },
            new Contracts.Facts.DuctLaid
            {
                SiteId = "s-far",
                DuctId = "d-far",
                Service = Contracts.DuctService.Spare,
                Colour = Contracts.DuctColour.Black,
                Wall = Contracts.DuctWall.TwinWall,
                BoreMillimetres = 40,
                LengthMetres = 9,
                DepthMillimetres = 500,
            },
            new Contracts.Facts.DuctLabelled { SiteId = "s-far", DuctId = "d-far", Label = "FAR 1" });

        await Eventually.ReadAsync(
            () => phone.Organisation.Office.GetAsync("/v1/ducts/d-far"), answer => answer.Status == System.Net.HttpStatusCode.OK, "the duct of the far field");
        await phone.Window.SetOfflineAsync(true);
        await page.TurnToAsync("t/duct/d-far", "It is not known here");
        await page.GetByText("Without a signal it cannot be looked up.").WaitForAsync();
        await phone.Window.SetOfflineAsync(false);
        var go = page.GetByRole(AriaRole.Button, new() { Name = "Go to " });
        await go.WaitForAsync();
        await page.IsSoundOnAsync("field-looked-up", Screen.Phone);
        await go.ClickAsync();

        await page.Locator("h1").Filter(new() { HasText = "FAR 1" }).WaitForAsync();
    }

    [GeneratedRegex("^([0-9.]+)mm$")]
    private static partial Regex Millimetres();
}
