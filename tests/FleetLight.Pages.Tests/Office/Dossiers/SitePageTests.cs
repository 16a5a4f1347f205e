using System.Text.Json.Nodes;
using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>The page of a site: what is built as of any day, what still fits, what is open.</summary>
public sealed class SitePageTests(RunningService service)
{
    [Fact]
    public async Task The_slider_goes_by_keys_and_shows_what_the_API_says_of_each_day()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"sites/{Desk.Site}", "Hill terraces");
        var said = page.Locator("[data-part=day-said]");
        await Assertions.Expect(said).ToHaveTextAsync($"As it is now: {await CountedAsync(desk, "")}");

        await page.Locator("#day-slider").FocusAsync();
        await page.Keyboard.PressAsync("Home");
        await Assertions.Expect(said).ToHaveTextAsync($"At the end of 2 March 2026: {await CountedAsync(desk, "?asOf=2026-03-02T22:59:59Z")}");
        await page.Keyboard.PressAsync("ArrowRight");
        await page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(said).ToHaveTextAsync($"At the end of 4 March 2026: {await CountedAsync(desk, "?asOf=2026-03-04T22:59:59Z")}");
        await page.GetByRole(AriaRole.Button, new() { Name = "Day of work after" }).ClickAsync();
        await Assertions.Expect(said).ToHaveTextAsync($"At the end of 9 March 2026: {await CountedAsync(desk, "?asOf=2026-03-09T22:59:59Z")}");
        await Assertions.Expect(page.Locator("#day-slider")).ToHaveAttributeAsync("aria-valuetext", "9 March 2026");
        // A slider that shows the same of every day would pass the above.
        Assert.NotEqual(await CountedAsync(desk, "?asOf=2026-03-02T22:59:59Z"), await CountedAsync(desk, ""));
    }

    [Fact]
    public async Task It_says_what_is_in_each_duct_and_what_still_fits_and_marks_a_chosen_one_on_the_plan()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"sites/{Desk.Site}", "Hill terraces");

        var row = page.Locator("#duct-d1");
        await Assertions.Expect(row).ToContainTextAsync("c1: 3 × 1.5 mm², 9.2 mm thick, 1 core spare");
        await Assertions.Expect(row).ToContainTextAsync("One more cable of up to");
        var choose = row.GetByRole(AriaRole.Button, new() { Name = "D1" });
        await choose.ClickAsync();
        await Assertions.Expect(choose).ToHaveAttributeAsync("aria-pressed", "true");
        await Assertions.Expect(page.Locator(".way.chosen")).ToHaveCountAsync(1);
        await Assertions.Expect(page.Locator("[data-part=circuits]")).ToContainTextAsync("Terrace steps");
        await Assertions.Expect(page.Locator("[data-part=crews]")).ToContainTextAsync("9 March 2026");
        await Assertions.Expect(page.Locator("[data-part=points] details").First).ToBeVisibleAsync();
        await Desk.LookAsync(page, "office-site");
    }

    [Fact]
    public async Task Open_points_and_material_are_of_the_day_that_is_shown()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"sites/{Desk.Site}", "Hill terraces");
        var points = page.Locator("[data-part=points]");
        await Assertions.Expect(page.Locator("[data-part=materials] td", new() { HasText = "not yet" })).ToHaveCountAsync(2);

        await page.Locator("#day-slider").FocusAsync();
        await page.Keyboard.PressAsync("Home");

        await Assertions.Expect(points.GetByRole(AriaRole.Heading, new() { Name = "Open points at the end of 2 March 2026" })).ToBeVisibleAsync();
        // On that day no cable was pulled; two days later one was.
        await Assertions.Expect(page.Locator("[data-part=materials] td", new() { HasText = "not yet" })).ToHaveCountAsync(3);
        // It reads 9.41 V now; on that day nobody had read it, and it was no more than designed.
        var circuits = page.Locator("[data-part=circuits]");
        await Assertions.Expect(circuits.GetByRole(AriaRole.Heading, new() { Name = "Circuits at the end of 2 March 2026" })).ToBeVisibleAsync();
        await Assertions.Expect(circuits.GetByRole(AriaRole.Row).Last).ToContainTextAsync("not read");
        await Assertions.Expect(circuits).Not.ToContainTextAsync("9.41");
        await page.Locator("#day-slider").PressAsync("End");
        await Assertions.Expect(circuits.GetByRole(AriaRole.Row).Last).ToContainTextAsync("9.41");
        await page.IsSoundAsync();
    }

    [Fact]
    public async Task The_plan_is_moved_enlarged_and_asked_by_keys_alone()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"sites/{Desk.Site}", "Hill terraces");
        var plan = page.GetByRole(AriaRole.Group, new() { Name = "Arrow keys move it" });
        var driver = plan.Locator(".point").Last;
        await plan.FocusAsync();
        var above = await page.EvaluateAsync<double>("scrollY");
        var before = (await driver.BoundingBoxAsync())!;

        await page.Keyboard.PressAsync("ArrowRight");
        await Eventually(async () => (await driver.BoundingBoxAsync())!.X < before.X - 50);
        await page.Keyboard.PressAsync("ArrowLeft");
        await Eventually(async () => Math.Abs((await driver.BoundingBoxAsync())!.X - before.X) < 1);
        var ways = plan.Locator(".way").First;
        var wide = (await ways.BoundingBoxAsync())!.Width;
        await page.Keyboard.PressAsync("+");
        await Eventually(async () => (await ways.BoundingBoxAsync())!.Width > wide * 1.2);
        await page.Keyboard.PressAsync("0");
        await Eventually(async () => Math.Abs((await ways.BoundingBoxAsync())!.Width - wide) < 1);
        Assert.Equal(above, await page.EvaluateAsync<double>("scrollY"));
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(plan.Locator(".chosen")).ToHaveCountAsync(1);
        await Assertions.Expect(page.Locator(".plan .told")).ToContainTextAsync(":");
        await page.IsSoundAsync();
    }

    private static async Task Eventually(Func<Task<bool>> holds)
    {
        for (var tries = 0; !await holds(); tries++) Assert.True(tries < 200, "The plan did not follow the key.");
    }

    [Fact]
    public async Task A_site_that_nobody_named_is_told_plainly()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync("sites/nowhere", "There is no site nowhere");
        await page.IsSoundAsync();
    }

    private static async Task<string> CountedAsync(Desk desk, string query)
    {
        var features = JsonNode.Parse((await desk.Organisation.Office.GetAsync($"/v1/sites/{Desk.Site}/as-built{query}")).Text)!["features"]!.AsArray();
        int Of(string kind) => features.Count(feature => feature!["properties"]!["kind"]!.GetValue<string>() == kind);
        string Said(int number, string one, string many) => $"{number} {(number == 1 ? one : many)}";
        return $"{Said(Of("duct"), "duct", "ducts")}, {Said(Of("cable"), "cable", "cables")}, {Said(Of("box"), "box", "boxes")}, {Said(Of("fitting"), "fitting", "fittings")}.";
    }
}
