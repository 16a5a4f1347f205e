using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>Every page of the field page by night and on a wide screen; by day on a phone the whole days show them.</summary>
public sealed class EveryPageTests(RunningService service)
{
    [Theory]
    [InlineData(true, true)]
    [InlineData(false, false)]
    public async Task It_is_sound(bool phone, bool dark)
    {
        var name = $"{(phone ? "phone" : "desk")}-{(dark ? "dark" : "light")}";
        var organisation = await service.AddOrganisationAsync();
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, phone ? Screen.Phone : Screen.Desktop, dark);
        var enrolling = await window.OpenAsync("/field/");
        await enrolling.Heading("Enrol this phone").WaitForAsync();
        await enrolling.IsSoundAsync();
        await enrolling.PictureAsync($"field-enrol-{name}");
        await enrolling.CloseAsync();
        var page = await window.EnrolAsync(organisation, "urn:device:phone-1");
        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12 m");
        await page.GetByText("'12 m' is no number.").WaitForAsync();
        await page.IsSoundAsync();
        await page.PictureAsync($"field-wrong-{name}");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("12");
        await page.KeepAsync();

        foreach (var (path, heading) in ((string, string)[])
        [
            ("sites", "Where are you?"), ("record/joint-made", "Joint made"), ("record/test-made", "Test made"), ("built", "Built on this site"),
            ($"t/circuit/{Facts.Circuit}", "Path lights"), ("waiting", "What waits on this phone"),
            ("record/put-right", "What was recorded wrongly?"), ("t/duct/none", "It is not known here"),
        ])
        {
            await page.GotoAsync($"/field/{path}");
            await page.StartedAsync();
            await page.Heading(heading).WaitForAsync();
            await page.IsSoundAsync();
            await page.PictureAsync($"field-{path.Replace('/', '-')}-{name}");
        }
    }
}
