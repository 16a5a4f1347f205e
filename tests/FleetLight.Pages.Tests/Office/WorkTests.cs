using FleetLight.Contracts.Views;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office;

/// <summary>What an office does on its page, from beginning to end.</summary>
public sealed class WorkTests(RunningService service)
{
    [Fact]
    public async Task What_changes_is_shown_without_loading_the_page_again()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key);
        await page.GetByText("4 circuits", new PageGetByTextOptions { Exact = true }).WaitForAsync();
        await page.EvaluateAsync("window.sameDocument = true");

        await fleet.Crew.TellAsync(CircuitFacts.Designed("k5", name: "Steps", siteId: "s3"));

        await page.GetByText("5 circuits", new PageGetByTextOptions { Exact = true }).WaitForAsync();
        Assert.True(await page.EvaluateAsync<bool>("window.sameDocument"));
    }

    [Fact]
    public async Task Filters_stand_in_the_address_and_the_way_back_leads_through_them()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "circuits");
        await Lines(page).Filter(new LocatorFilterOptions { HasText = "Gate lights" }).WaitForAsync();
        Assert.Equal(4, await Lines(page).CountAsync());

        await page.GetByLabel("Phase").SelectOptionAsync("proven");
        await page.GetByText("No circuit is like that.").WaitForAsync();
        Assert.EndsWith("/office/circuits?phase=proven", page.Url, StringComparison.Ordinal);

        await page.GoBackAsync();
        await Lines(page).Filter(new LocatorFilterOptions { HasText = "Gate lights" }).WaitForAsync();
        Assert.EndsWith("/office/circuits", page.Url, StringComparison.Ordinal);

        await page.GetByLabel("Name or id").FillAsync("pond");
        await Assertions.Expect(Lines(page)).ToHaveCountAsync(1);
        var other = await window.OpenOfficeAsync(fleet.Key, new Uri(page.Url).PathAndQuery["/office/".Length..]);
        await Assertions.Expect(Lines(other)).ToHaveCountAsync(1);
        Assert.Equal("pond", await other.GetByLabel("Name or id").InputValueAsync());
    }

    [Fact]
    public async Task Sites_bear_their_names_while_the_list_of_the_fleet_cannot_be_had()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        await window.RouteAsync("**/v1/fleet/sites*", route => route.FulfillAsync(new RouteFulfillOptions
        {
            Status = 503,
            ContentType = "application/problem+json",
            Body = """{"type":"urn:fleetlight:problem:not-now","title":"The service cannot answer now.","status":503}""",
        }));

        var page = await window.OpenOfficeAsync(fleet.Key, "alerts");

        await page.GetByLabel("Choose all of Tanner’s Yard").WaitForAsync();
    }

    [Fact]
    public async Task Several_alerts_are_noted_at_once()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "alerts");
        await page.GetByLabel("Choose all of Tanner’s Yard").CheckAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Take note" }).ClickAsync();
        var dialog = page.GetByRole(AriaRole.Dialog);
        await dialog.GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = "Take note", Exact = true }).ClickAsync();
        await dialog.GetByText("Say what was decided").WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("office-note-dialog");
        await dialog.GetByLabel("What was decided").FillAsync("Gel is ordered.");
        await dialog.GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = "Take note", Exact = true }).ClickAsync();

        await page.GetByText("“Gel is ordered.”").First.WaitForAsync();
        var alerts = (await fleet.Organisation.Office.ReadAsync<Page<AlertView>>("/v1/alerts?site=s2")).Items;
        Assert.True(alerts.Count >= 2);
        Assert.All(alerts, alert => Assert.Equal("Gel is ordered.", alert.Note));
    }

    [Fact]
    public async Task A_visit_is_planned_from_alerts_and_its_sheet_says_what_to_take_along()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "alerts");
        await page.GetByLabel("Choose all of Tanner’s Yard").CheckAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Plan a visit" }).ClickAsync();
        var dialog = page.GetByRole(AriaRole.Dialog);
        await dialog.GetByLabel("Day", new LocatorGetByLabelOptions { Exact = true }).FillAsync("2030-05-06");
        await dialog.GetByLabel("Crew", new LocatorGetByLabelOptions { Exact = true }).FillAsync("Heron");
        await dialog.GetByLabel("What whoever goes has to know").FillAsync("The key hangs at the hall.");
        await page.IsSoundAsync();
        await page.PictureAsync("office-plan-dialog");
        await dialog.GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = "Plan the visit" }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "visit on Mon 6 May 2030" }).First.ClickAsync();

        await page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = "Visits on Mon 6 May 2030" }).WaitForAsync();
        var sheet = page.GetByRole(AriaRole.Article);
        await sheet.GetByText("Crew: Heron").WaitForAsync();
        await sheet.GetByText("The key hangs at the hall.").WaitForAsync();
        await sheet.GetByRole(AriaRole.Heading, new LocatorGetByRoleOptions { Name = "To take along" }).WaitForAsync();
        await sheet.GetByRole(AriaRole.Heading, new LocatorGetByRoleOptions { Name = "To mind" }).WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("office-visit");
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { Media = Media.Print });
        Assert.False(await page.GetByRole(AriaRole.Navigation).IsVisibleAsync());
        await page.PictureAsync("office-visit-print");
    }

    [Fact]
    public async Task A_refused_fact_is_mended_at_its_field_and_handed_in()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "refused");
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Duct laid" }).ClickAsync();
        await page.GetByText("lengthMetres is 9900").WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("office-mend");
        var send = page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Hand it in, mended" });
        Assert.True(await send.IsDisabledAsync());

        await page.GetByLabel("data.lengthMetres").FillAsync("99000");
        await page.GetByText("lengthMetres is 99000").WaitForAsync();
        Assert.True(await send.IsDisabledAsync());
        await page.GetByLabel("data.lengthMetres").FillAsync("99");
        await page.GetByText("Nothing is wrong with it any more.").WaitForAsync();
        await send.ClickAsync();

        await page.GetByText("Nothing waits to be mended.").WaitForAsync();
        await Eventually.ReadAsync(
            async () => (await fleet.Organisation.Office.GetAsync("/v1/ducts/d1")).Status, status => status == System.Net.HttpStatusCode.OK, "the duct");
        Assert.Equal(99, (await fleet.Organisation.Office.ReadAsync<DuctView>("/v1/ducts/d1")).LengthMetres);
    }

    [Fact]
    public async Task A_refused_fact_is_dismissed_with_a_reason()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "refused");
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Duct laid" }).ClickAsync();
        var dismiss = page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Dismiss it" });
        await dismiss.ClickAsync();
        await page.GetByText("Say why, so that the next person knows.").WaitForAsync();
        await page.GetByLabel("Why it is not needed").FillAsync("Typed twice.");
        await dismiss.ClickAsync();

        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Dismissed" }).ClickAsync();
        await page.GetByText("Typed twice.").WaitForAsync();
    }

    [Fact]
    public async Task A_device_gets_a_code_its_sites_and_is_reported_lost()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "devices");
        await page.GetByLabel("Name of the device").FillAsync("van 3");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Make a code" }).ClickAsync();
        await page.GetByAltText("The code as a picture to scan").WaitForAsync();
        Assert.True(await page.GetByAltText("The code as a picture to scan").EvaluateAsync<bool>("picture => picture.decode().then(() => picture.naturalWidth > 0)"));
        await page.IsSoundAsync();
        await page.PictureAsync("office-code");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Take it back the code for van 3" }).ClickAsync();
        await page.GetByText("taken back").WaitForAsync();

        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Sites … of urn:device:crew-heron" }).ClickAsync();
        await page.GetByRole(AriaRole.Dialog).GetByLabel("Sedge Walk").CheckAsync();
        await page.GetByRole(AriaRole.Dialog).GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = "Assign" }).ClickAsync();
        await page.GetByRole(AriaRole.Listitem).Filter(new LocatorFilterOptions { HasText = "crew-heron" }).GetByText("Sedge Walk").WaitForAsync();

        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "It is lost … urn:device:crew-heron" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "It is lost", Exact = true }).ClickAsync();
        await page.GetByText("no key in force").WaitForAsync();
    }

    [Fact]
    public async Task The_keyboard_alone_reaches_the_content_and_chooses_an_alert()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "alerts?by=rule");
        // A page that was opened stands on its heading already; the way round leads over the first link.
        var skip = page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Skip to the content" });
        await skip.FocusAsync();
        Assert.True((await skip.BoundingBoxAsync())!.X >= 0);
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("document.activeElement.id === 'main'");

        for (var step = 0; step < 30 && await page.EvaluateAsync<string?>("document.activeElement.type") != "checkbox"; step++) await page.Keyboard.PressAsync("Tab");
        await page.Keyboard.PressAsync("Space");
        await page.GetByText("chosen.").WaitForAsync();
    }

    [Fact]
    public async Task The_plan_of_the_fleet_is_used_by_keys_alone()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key);
        var plan = page.GetByRole(AriaRole.Group, new PageGetByRoleOptions { Name = "Plan of the sites" });
        var yard = plan.GetByRole(AriaRole.Link, new LocatorGetByRoleOptions { Name = "Tanner’s Yard" });
        var apart = await ApartAsync();
        await plan.FocusAsync();
        var before = (await yard.BoundingBoxAsync())!;

        await page.Keyboard.PressAsync("ArrowRight");
        await EventuallyAsync(async () => (await yard.BoundingBoxAsync())!.X < before.X - 50);
        await page.Keyboard.PressAsync("ArrowLeft");
        await EventuallyAsync(async () => Math.Abs((await yard.BoundingBoxAsync())!.X - before.X) < 1);
        await page.Keyboard.PressAsync("-");
        await EventuallyAsync(async () => await ApartAsync() < apart * 0.7);
        await page.Keyboard.PressAsync("0");
        await EventuallyAsync(async () => Math.Abs(await ApartAsync() - apart) < 1);

        // The signs below the plan choose what stands on it: of sites that nobody read, none is within.
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "as it should be", Exact = true }).PressAsync("Enter");
        await page.GetByText("Only these are shown: 0 sites of 3.").WaitForAsync();
        await Assertions.Expect(plan.GetByRole(AriaRole.Link)).ToHaveCountAsync(0);
        await page.IsSoundOnAsync("office-plan-keys", Screen.Phone, Screen.Desktop);
        await page.SetViewportSizeAsync(Screen.Desktop.Width, Screen.Desktop.Height);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "as it should be", Exact = true }).PressAsync("Space");
        await Assertions.Expect(plan.GetByRole(AriaRole.Link)).ToHaveCountAsync(3);

        await yard.FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = "Tanner’s Yard", Level = 1 }).WaitForAsync();

        async Task<double> ApartAsync() => (await yard.BoundingBoxAsync())!.X
            - (await plan.GetByRole(AriaRole.Link, new LocatorGetByRoleOptions { Name = "Sedge Walk" }).BoundingBoxAsync())!.X;
    }

    private static async Task EventuallyAsync(Func<Task<bool>> holds)
    {
        for (var tries = 0; !await holds(); tries++) Assert.True(tries < 200, "The plan did not follow the key.");
    }

    private static ILocator Lines(IPage page) => page.GetByRole(AriaRole.Region, new PageGetByRoleOptions { Name = "Circuits" }).Locator("li.line:not(.waiting)");
}
