using FleetLight.Pages.Tests.Browsing;

namespace FleetLight.Pages.Tests.Office;

/// <summary>Every page of the office, by day and by night, on a desk and on a phone: sound, and in pictures to be looked at.</summary>
public sealed class LookTests(RunningService service)
{
    private static readonly (string Name, string Path)[] Pages =
    [
        ("fleet", ""), ("circuits", "circuits"), ("circuits-none", "circuits?q=nothing-like-it"), ("alerts", "alerts"), ("visits", "visits"),
        ("refused", "refused"), ("devices", "devices"), ("judging", "judging"), ("acts", "acts"), ("find", "find?q=lights"),
    ];

    [Theory]
    [InlineData(false, false)]
    [InlineData(false, true)]
    [InlineData(true, false)]
    [InlineData(true, true)]
    public async Task Every_page_is_sound(bool phone, bool dark)
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, phone ? Screen.Phone : Screen.Desktop, dark);
        var page = await window.OpenOfficeAsync(fleet.Key);
        foreach (var (name, path) in Pages)
        {
            await page.GotoAsync($"/office/{path}");
            await page.StartedAsync();
            await page.ReadAsync();
            await page.IsSoundAsync();
            await page.PictureAsync($"office-{name}-{(phone ? "phone" : "desk")}-{(dark ? "dark" : "light")}");
        }
    }

    [Fact]
    public async Task An_organisation_without_anything_is_told_what_comes_next()
    {
        var organisation = await service.AddOrganisationAsync();
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(organisation.Office.Key!);

        await page.GetByText("No site yet.").WaitForAsync();
        await page.IsSoundAsync();
        foreach (var (name, path) in Pages.Where(each => each.Path is "circuits" or "alerts" or "refused" or "devices"))
        {
            await page.GotoAsync($"/office/{path}");
            await page.StartedAsync();
            await page.ReadAsync();
            await page.IsSoundAsync();
            await page.PictureAsync($"office-empty-{name}");
        }
    }
}
