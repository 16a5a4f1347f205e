using FleetLight.Pages.Tests.Browsing;

namespace FleetLight.Pages.Tests.Office;

/// <summary>Every page of the office, by day and by night, on a desk and on a phone: sound, and in pictures to be looked at.</summary>
public sealed class LookTests(RunningService service)
{
    private static readonly (string Name, string Path, string Heading)[] Pages =
    [
        ("fleet", "", "The fleet"), ("circuits", "circuits", "Circuits"), ("circuits-none", "circuits?q=nothing-like-it", "Circuits"), ("alerts", "alerts", "Alerts"),
        ("visits", "visits", "Visits on"), ("refused", "refused", "Refused facts"), ("devices", "devices", "Devices"), ("judging", "judging", "How circuits are judged"),
        ("acts", "acts", "Who did what"), ("find", "find?q=lights", "Sites and circuits with “lights”"),
    ];

    [Fact]
    public async Task Every_page_is_sound_on_a_desk_and_on_a_phone_by_day_and_by_night()
    {
        var fleet = await SmallFleet.CreateAsync(await service.AddOrganisationAsync());
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(fleet.Key);
        foreach (var (name, path, heading) in Pages)
        {
            await page.TurnToAsync(path, heading);
            await page.ReadAsync();
            await page.IsSoundOnAsync($"office-{name}", Screen.Desktop, Screen.Phone);
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
        foreach (var (name, path, heading) in Pages.Where(each => each.Path is "circuits" or "alerts" or "refused" or "devices"))
        {
            await page.TurnToAsync(path, heading);
            await page.ReadAsync();
            await page.IsSoundAsync();
            await page.PictureAsync($"office-empty-{name}");
        }
    }
}
