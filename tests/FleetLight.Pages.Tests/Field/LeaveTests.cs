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

        // A point by itself: many alike are folded, and one that asks for more opens its form.
        await page.Locator(".points > li.sheet:not(:has([aria-expanded])) button").Filter(new() { HasNotText = "fill in the rest" }).First.ClickAsync();

        await Expect(page.GetByText("Kept:")).ToBeVisibleAsync();
        await Expect(points).Not.ToHaveCountAsync(before);
        await phone.Window.SetOfflineAsync(false);
        await page.GetByLabel("It is being handed over").CheckAsync();
        await Expect(page.GetByText("points are open.")).ToBeVisibleAsync();
        await page.IsSoundAsync();
    }

    [Fact]
    public async Task A_circuit_of_two_hundred_fittings_is_told_in_few_lines()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone, false, GardenPhone.Avenue);
        var page = phone.Page;
        await phone.GoAsync("Leave", "Before we leave");
        await page.GetByLabel("It is being energised").CheckAsync();
        await Expect(page.GetByText("points are open.")).ToBeVisibleAsync();
        // Cables, driver and fittings.
        await Expect(page.Locator("h2:text-is('Avenue') + ul > li.sheet")).ToHaveCountAsync(3);
        await page.IsSoundOnAsync("leave-large", Screen.Phone, Screen.Desktop);
        var fittings = page.Locator(".points > li.sheet").Filter(new() { HasText = "Fitting a1 is not fixed. And 199 more like it." });
        await fittings.GetByRole(AriaRole.Button, new() { Name = "One by one: all 200" }).ClickAsync();
        await page.IsSoundOnAsync("leave-one-by-one", Screen.Phone);
        await fittings.GetByRole(AriaRole.Listitem).Filter(new() { HasText = "Fitting a7 is not fixed." }).GetByRole(AriaRole.Button, new() { Name = "Fixed" }).ClickAsync();
        await Expect(page.GetByText("And 198 more like it.")).ToBeVisibleAsync();

        // The rest at once, once somebody says that it was seen.
        await page.GetByRole(AriaRole.Button, new() { Name = "Fixed: all 199 …" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Yes, all 199" }).ClickAsync();

        await Expect(page.GetByText("199 times Fixed")).ToBeVisibleAsync();
        await Expect(page.GetByText("Fitting a")).ToHaveCountAsync(0);
    }
}
