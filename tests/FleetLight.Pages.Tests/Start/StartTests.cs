using FleetLight.Pages.Tests.Browsing;

namespace FleetLight.Pages.Tests.Start;

/// <summary>Both pages start in a browser for somebody who likes it dark; by day they are opened by every other test.</summary>
public sealed class StartTests(RunningService service)
{
    [Theory]
    [InlineData("field", true)]
    [InlineData("office", false)]
    public async Task It_starts(string name, bool phone)
    {
        await using var window = await Browser.OpenAsync(service.Url, phone ? Screen.Phone : Screen.Desktop, dark: true);
        var page = await window.OpenAsync($"/{name}/");

        await page.IsSoundAsync();
        await page.PictureAsync($"start-{name}-dark");
    }
}
