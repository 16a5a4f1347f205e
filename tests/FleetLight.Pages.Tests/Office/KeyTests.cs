using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office;

/// <summary>Opening the office with a key, and what becomes of the page when the key ends or the service is out of reach.</summary>
public sealed class KeyTests(RunningService service)
{
    [Fact]
    public async Task The_address_of_the_service_leads_to_the_office_and_a_key_in_it_is_taken_out_at_once()
    {
        var organisation = await service.AddOrganisationAsync();
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenAsync($"/#key={organisation.Office.Key}");

        await page.GetByRole(AriaRole.Heading, new PageGetByRoleOptions { Name = "The fleet" }).WaitForAsync();
        Assert.Equal("/office/", new Uri(page.Url).PathAndQuery);
        Assert.DoesNotContain("key", page.Url, StringComparison.Ordinal);
        Assert.Equal(organisation.Office.Key, await page.EvaluateAsync<string>("sessionStorage.getItem('fleetlight-key')"));
        Assert.Equal(0, await page.EvaluateAsync<int>("localStorage.length"));
    }

    [Fact]
    public async Task A_code_for_a_device_is_led_to_the_field_page_with_what_stands_behind_the_hash()
    {
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.NewPageAsync();
        await page.GotoAsync("/enrol#ABCD-EFGH-JKMN");

        Assert.StartsWith("/field/enrol", new Uri(page.Url).PathAndQuery, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "Paste a key first.")]
    [InlineData("no key at all", "The service does not know this key.")]
    [InlineData("0123456789ab.AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA", "The service does not know this key.")]
    public async Task A_key_that_is_not_taken_is_told_in_plain_words(string key, string told)
    {
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenAsync("/office/");
        await page.GetByLabel("Key").FillAsync(key);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Open", Exact = true }).ClickAsync();

        await page.GetByRole(AriaRole.Alert).Filter(new LocatorFilterOptions { HasText = told }).WaitForAsync();
        await page.IsSoundAsync();
    }

    [Fact]
    public async Task A_key_that_may_not_read_is_told_so()
    {
        var organisation = await service.AddOrganisationAsync();
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenAsync($"/office/#key={await organisation.MakeKeyAsync("enrol-devices")}");

        await page.GetByText("it may not read the status").WaitForAsync();
    }

    [Fact]
    public async Task A_key_that_is_revoked_in_the_middle_closes_the_page_and_another_opens_it_where_it_was()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        var key = await fleet.Organisation.MakeKeyAsync("read-status", "acknowledge-alerts");
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(key, "circuits?phase=designed");

        (await fleet.Organisation.Office.DeleteAsync($"/v1/keys/{key.Split('.')[0]}")).Expect(System.Net.HttpStatusCode.NoContent);
        // The next change makes the service look at the key of the feed.
        await fleet.Crew.TellAsync(Testing.Builders.CircuitFacts.Fault("f9", "Dark.", "k4", "s3"));
        await page.GetByText("is no longer taken").WaitForAsync();
        await page.PictureAsync("office-key-ended");
        Assert.Null(await page.EvaluateAsync<string?>("sessionStorage.getItem('fleetlight-key')"));

        await page.GetByLabel("Key").FillAsync(fleet.Key);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Open", Exact = true }).ClickAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Path lights" }).WaitForAsync();
        Assert.EndsWith("/office/circuits?phase=designed", page.Url, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_whose_time_has_run_out_closes_the_page()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        var key = await fleet.Organisation.MakeKeyAsync("read-status");
        // A key gets an end when it is renewed: a day later. The day is made short here, before the service has seen the key.
        await service.Process.EndKeyAsync(key.Split('.')[0], DateTimeOffset.UtcNow.AddSeconds(25), TestContext.Current.CancellationToken);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(key, "circuits");
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Path lights" }).WaitForAsync();

        await page.GetByText("is no longer taken").WaitForAsync(new LocatorWaitForOptions { Timeout = 90_000 });
        await page.GetByLabel("Key").FillAsync(key);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Open", Exact = true }).ClickAsync();
        await page.GetByText("have run out").WaitForAsync();
    }

    [Fact]
    public async Task Out_of_reach_it_says_since_when_and_catches_up_afterwards()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key, "circuits");

        // The stream that is open is cut as well: a window that is offline keeps what it has open.
        await window.RouteAsync("**/v1/**", route => route.AbortAsync());
        await window.SetOfflineAsync(true);
        await page.EvaluateAsync("window.dispatchEvent(new Event('offline'))");
        await page.GetByText("Not live since").WaitForAsync(new LocatorWaitForOptions { Timeout = 60_000 });
        await fleet.Crew.TellAsync(Testing.Builders.CircuitFacts.Designed("k9", name: "Bridge lights", siteId: "s3"));
        await page.IsSoundAsync();
        await page.PictureAsync("office-not-live");

        await window.SetOfflineAsync(false);
        await window.UnrouteAllAsync();
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Bridge lights" }).WaitForAsync(new LocatorWaitForOptions { Timeout = 60_000 });
        await page.GetByText("Live", new PageGetByTextOptions { Exact = true }).WaitForAsync();
    }
}
