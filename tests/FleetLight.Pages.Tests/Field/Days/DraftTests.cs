using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>A form that was half filled in when the browser was closed.</summary>
public sealed class DraftTests(RunningService service)
{
    [Fact]
    public async Task A_half_filled_form_outlives_the_browser_is_said_to_be_a_draft_and_is_gone_once_it_is_recorded()
    {
        const string Source = "urn:device:phone-1";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        var folder = Directory.CreateTempSubdirectory("fleetlight-phone-").FullName;
        await using (var window = await Browser.OpenKeepingAsync(folder, service.Url, Screen.Phone))
        {
            var page = await window.EnrolAsync(organisation, Source);
            await page.OpenFormAsync("Duct laid");
            await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12 m");
            await page.Locator("#label-besides").FillAsync("D 450");
            // What is typed goes into the store once the fingers rest; that it is there is what the next window shows.
            await Eventually.ReadAsync(
                () => page.EvaluateAsync<string?>("name => fleetlightStore.draft(name)", $"half:{Facts.Site}:duct-laid::::"),
                kept => kept?.Contains("450", StringComparison.Ordinal) == true,
                "the draft in the phone's store");
        }

        await using (var window = await Browser.OpenKeepingAsync(folder, service.Url, Screen.Phone))
        {
            await window.SetOfflineAsync(true);
            var page = await window.OpenAsync("/field/record/duct-laid");
            await Expect(page.GetByText("A draft, not recorded.")).ToBeVisibleAsync();
            await Expect(page.GetByLabel("Length", new() { Exact = true })).ToHaveValueAsync("12 m");
            await Expect(page.Locator("#label-besides")).ToHaveValueAsync("D 450");
            await page.GetByText("'12 m' is no number.").WaitForAsync();
            await page.IsSoundOnAsync("field-draft", Screen.Phone);
            await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12");
            await page.KeepAsync();
            await page.OpenFormAsync("Duct laid");
            await Expect(page.GetByText("A draft, not recorded.")).ToHaveCountAsync(0);
            await Expect(page.GetByLabel("Length", new() { Exact = true })).ToHaveValueAsync("");
            await window.SetOfflineAsync(false);
        }

        Directory.Delete(folder, true);
    }

    [Fact]
    public async Task A_draft_is_dropped_when_one_starts_over()
    {
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, "urn:device:phone-1");
        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("17");
        await page.GetByRole(Microsoft.Playwright.AriaRole.Link, new() { Name = "Built" }).ClickAsync();
        await page.Heading("Built on this site").WaitForAsync();
        await page.TurnToAsync("record/duct-laid", "Duct laid");
        await Expect(page.GetByLabel("Length", new() { Exact = true })).ToHaveValueAsync("17");

        await page.Button("Start over").ClickAsync();

        await Expect(page.GetByLabel("Length", new() { Exact = true })).ToHaveValueAsync("");
        await page.ReloadAsync();
        await page.StartedAsync();
        await Expect(page.GetByText("A draft, not recorded.")).ToHaveCountAsync(0);
    }
}
