using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>Every page of the field page on a phone and on a wide screen, by day and by night.</summary>
public sealed class EveryPageTests(RunningService service)
{
    private static readonly (string Path, string Heading)[] Pages =
    [
        ("sites", "Where are you?"), ("record/joint-made", "Joint made"), ("record/test-made", "Test made"), ("built", "Built on this site"),
        ($"t/circuit/{Facts.Circuit}", "Path lights"), ("waiting", "What waits on this phone"),
        ("record/put-right", "What was recorded wrongly?"), ("t/duct/none", "It is not known here"),
    ];

    [Fact]
    public async Task They_are_sound()
    {
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var enrolling = await window.OpenAsync("/field/");
        await enrolling.Heading("Enrol this phone").WaitForAsync();
        await enrolling.IsSoundOnAsync("field-enrol", Screen.Phone, Screen.Desktop);
        await enrolling.CloseAsync();
        var page = await window.EnrolAsync(organisation, "urn:device:phone-1");
        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12 m");
        await page.GetByText("'12 m' is no number.").WaitForAsync();
        await page.IsSoundOnAsync("field-wrong", Screen.Phone, Screen.Desktop);
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12");
        await page.KeepAsync();
        foreach (var (path, heading) in Pages)
        {
            await page.TurnToAsync(path, heading);
            await page.IsSoundOnAsync($"field-{path.Replace('/', '-')}", Screen.Phone, Screen.Desktop);
        }
    }
}
