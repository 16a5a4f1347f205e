using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Field;

/// <summary>Before the crew leaves: what is open, ticked off without a signal.</summary>
public sealed class LeaveTests(RunningService service)
{
    [Fact]
    public async Task A_point_is_ticked_off_by_recording_its_fact()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone);
        var page = phone.Page;
        await phone.GoAsync("Leave", "Before we leave");
        await phone.Window.SetOfflineAsync(true);
        await page.GetByLabel("The ground is being closed").CheckAsync();
        var points = page.Locator(".points > li.sheet");
        await Expect(page.GetByText("points are open.")).ToBeVisibleAsync();
        var before = await points.CountAsync();
        await page.IsSoundOnAsync("leave", Screen.Phone);

        await page.GetByRole(AriaRole.Button).Filter(new() { HasNotText = "fill in the rest" }).And(page.Locator(".points button")).First.ClickAsync();

        await Expect(page.GetByText("Kept:")).ToBeVisibleAsync();
        await Expect(points).Not.ToHaveCountAsync(before);
        await phone.Window.SetOfflineAsync(false);
        await page.GetByLabel("It is being handed over").CheckAsync();
        await Expect(page.GetByText("points are open.")).ToBeVisibleAsync();
        await page.IsSoundAsync();
    }
}
