using FleetLight.Pages.Tests.Browsing;

namespace FleetLight.Pages.Tests.Start;

/// <summary>Both pages start in a browser, by day and by night, on a phone and on a desk.</summary>
public sealed class StartTests(RunningService service)
{
    [Theory]
    [InlineData("field", true, false)]
    [InlineData("field", true, true)]
    [InlineData("office", false, false)]
    [InlineData("office", false, true)]
    public async Task It_starts(string name, bool phone, bool dark)
    {
        await using var window = await Browser.OpenAsync(service.Url, phone ? Screen.Phone : Screen.Desktop, dark);
        var page = await window.OpenAsync($"/{name}/");

        await page.IsSoundAsync();
        await page.PictureAsync($"start-{name}-{(dark ? "dark" : "light")}");
    }
}
