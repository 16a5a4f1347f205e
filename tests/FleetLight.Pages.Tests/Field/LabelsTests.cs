using System.Globalization;
using System.Text.RegularExpressions;
using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Field;

/// <summary>Labels are chosen, looked at, and come out of the printer in their true size.</summary>
public sealed partial class LabelsTests(RunningService service)
{
    // CSS: an inch has 96 pixels.
    private const double PixelsPerMillimetre = 96 / 25.4;

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task They_print_in_their_true_size(bool dark)
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone, dark);
        var page = phone.Page;
        await page.GotoAsync("/field/labels");
        await page.StartedAsync();
        await page.GetByRole(AriaRole.Group, new() { Name = "Ducts" }).GetByRole(AriaRole.Button, new() { Name = "All of them" }).ClickAsync();
        await page.GetByLabel("Box by the steps").CheckAsync();
        await page.GetByLabel("Width of the tape").SelectOptionAsync("24");

        await Expect(page.Locator("figure.label svg")).ToHaveCountAsync(3);
        await page.IsSoundAsync();
        await page.PictureAsync($"labels-{(dark ? "dark" : "light")}");

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
        await page.PictureAsync($"labels-print-{(dark ? "dark" : "light")}");
    }

    [GeneratedRegex("^([0-9.]+)mm$")]
    private static partial Regex Millimetres();
}
