using FleetLight.Contracts.Views;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>Whole days of crews: nothing that a phone said is kept is ever lost, and the service has it once.</summary>
public sealed class WholeDayTests(RunningService service)
{
    [Fact]
    public async Task A_crew_lays_pulls_seals_goes_offline_closes_the_browser_and_loses_nothing()
    {
        const string Source = "urn:device:phone-1";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        var folder = Directory.CreateTempSubdirectory("fleetlight-phone-").FullName;
        await using (var window = await Browser.OpenKeepingAsync(folder, service.Url, Screen.Phone))
        {
            var page = await window.EnrolAsync(organisation, Source);
            Assert.DoesNotContain("#", page.Url, StringComparison.Ordinal);
            await page.IsSoundAsync();
            await page.PictureAsync("field-start");

            await page.OpenFormAsync("Duct laid");
            await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12,5");
            await page.IsSoundAsync();
            await page.PictureAsync("field-duct-laid");
            await page.KeepAsync();
            await page.OpenFormAsync("Cable pulled");
            await page.KeepAsync();
            await page.OpenFormAsync("Box sealed");
            foreach (var question in (string[])["Cables held against pull", "Filled with gel", "It can breathe (vent, drain or gland for it)"])
                await page.GetByRole(AriaRole.Group, new() { Name = question }).GetByText("Yes").ClickAsync();
            await page.KeepAsync();
            await page.StandsAsync("All is sent");
            await page.IsKeptWholeAsync();
            await page.PictureAsync("field-kept");
        }

        await using (var window = await Browser.OpenKeepingAsync(folder, service.Url, Screen.Phone))
        {
            await window.SetOfflineAsync(true);
            var page = await window.OpenAsync("/field/");
            await page.OpenFormAsync("Reading taken");
            await page.GetByLabel("Reading", new() { Exact = true }).FillAsync("9.5");
            await page.KeepAsync();
            await page.StandsAsync("1 fact waits: no signal.");
            await page.IsSoundAsync();
            await page.PictureAsync("field-offline");
            await page.CloseAsync();
            var again = await window.OpenAsync("/field/waiting");
            await again.GetByText("Reading 9.5 V at the driver").WaitForAsync();
            await again.IsSoundAsync();
            await again.PictureAsync("field-waiting");
        }

        // Started again with a signal: its worker may send before a page is open.
        await using (var window = await Browser.OpenKeepingAsync(folder, service.Url, Screen.Phone))
            await (await window.OpenAsync("/field/waiting")).StandsAsync("All is sent");

        await Phone.HasAsync(organisation, Source, 1, 2, 3, 4);
        Directory.Delete(folder, true);
    }

    [Fact]
    public async Task Two_phones_on_one_site_see_what_the_other_recorded()
    {
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var one = await Browser.OpenAsync(service.Url, Screen.Phone);
        await using var other = await Browser.OpenAsync(service.Url, Screen.Phone);
        var first = await one.EnrolAsync(organisation, "urn:device:phone-1");
        var second = await other.EnrolAsync(organisation, "urn:device:phone-2");

        await first.OpenFormAsync("Duct laid");
        await first.GetByLabel("Length", new() { Exact = true }).FillAsync("20");
        await first.GetByLabel("Label put on it").FillAsync("D1");
        await first.KeepAsync();
        await first.StandsAsync("All is sent");
        await Phone.HasAsync(organisation, "urn:device:phone-1", 1, 2);
        await second.GotoAsync("/field/waiting");
        await second.Button("Send now").ClickAsync();
        await second.GetByRole(AriaRole.Link, new() { Name = "What is built on this site" }).ClickAsync();
        await second.GetByText("D1").ClickAsync();
        await second.Heading("D1").WaitForAsync();
        await second.IsSoundAsync();
        await second.PictureAsync("field-thing");
        await second.OpenFormAsync("String left");
        await second.KeepAsync();
        await second.StandsAsync("All is sent");

        await Phone.HasAsync(organisation, "urn:device:phone-1", 1, 2);
        await Phone.HasAsync(organisation, "urn:device:phone-2", 1);
    }

    [Fact]
    public async Task A_revoked_key_loses_nothing_and_a_new_code_sends_it()
    {
        const string Source = "urn:device:phone-1";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, Source);
        (await organisation.Office.PostAsync($"/v1/devices/{Uri.EscapeDataString(Source)}/lost")).Expect(System.Net.HttpStatusCode.OK);

        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("8");
        await page.KeepAsync();
        await page.StandsAsync("1 fact waits, safe here. Ask the office for a new code.");
        await page.GetByTestId("standing").ClickAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("field-key-not-taken");
        await page.GetByRole(AriaRole.Link, new() { Name = "Enter a new code" }).ClickAsync();
        await page.GetByLabel("Code").FillAsync(await Phone.CodeAsync(organisation, Source));
        await page.Button("Enrol this phone").ClickAsync();
        await page.StandsAsync("All is sent");

        await Phone.HasAsync(organisation, Source, 1);
    }

    [Fact]
    public async Task A_refused_fact_is_mended_in_its_form_and_taken()
    {
        const string Source = "urn:device:phone-1";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, Source);
        // The page's own check passes nothing that the service refuses; an older version of the page might have.
        await page.EvaluateAsync(
            """
            () => fleetlightPage.record({ source: 'urn:device:phone-1', photos: [], facts: [{
              id: 'wrong', type: 'fleetlight.duct.laid.v1', siteId: 'site-1', time: new Date().toISOString(),
              data: '{"siteId":"site-1","ductId":"d-9","service":"spare","colour":"black","wall":"twin-wall","boreMillimetres":50,"lengthMetres":12000}' }] })
            """);

        await page.StandsAsync("1 fact refused: see what to mend.");
        await page.GetByTestId("standing").ClickAsync();
        await page.GetByText("\"Length\" is 12000").WaitForAsync();
        await page.GetByText("At \"Length, m\"").WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("field-refused");
        await page.GetByRole(AriaRole.Link, new() { Name = "Mend it" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Length", new() { Exact = true })).ToBeFocusedAsync();
        await page.GetByText("Refused: Length, m").WaitForAsync();
        await page.PictureAsync("field-mend");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12");
        await page.Button("Keep it").ClickAsync();
        await page.Heading("What waits on this phone").WaitForAsync();
        await page.StandsAsync("All is sent");

        var duct = await Eventually.ReadAsync(
            async () => (await organisation.Office.GetAsync("/v1/ducts/d-9")) is { Status: System.Net.HttpStatusCode.OK } found ? found.As<DuctView>() : null,
            found => found is not null, "the mended duct");
        Assert.Equal(12, duct!.LengthMetres);
        await Phone.HasAsync(organisation, Source, 2);
    }

    [Fact]
    public async Task What_was_recorded_wrongly_is_changed_and_taken_back()
    {
        const string Source = "urn:device:phone-1";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, Source);
        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("8");
        await page.KeepAsync();

        await page.GetByRole(AriaRole.Link, new() { Name = "Recorded wrongly" }).ClickAsync();
        await page.Heading("What was recorded wrongly?").WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync("field-put-right");
        await page.GetByRole(AriaRole.Link, new() { Name = "Change: Duct laid, 8 m" }).ClickAsync();
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("9");
        await page.GetByLabel("Why it is changed").FillAsync("Measured again");
        await page.KeepAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Recorded wrongly" }).ClickAsync();
        await page.GetByText("Duct laid, 9 m").WaitForAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Take back: Duct laid, 9 m" }).ClickAsync();
        await page.GetByLabel("Why").FillAsync("Was never laid");
        await page.Button("Take it back").ClickAsync();
        await page.StandsAsync("All is sent");

        await Phone.HasAsync(organisation, Source, 1, 2, 3);
    }
}
