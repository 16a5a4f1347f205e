using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office;

/// <summary>Opening the office page with a key, the way a link with one does.</summary>
internal static class OfficeWindow
{
    /// <summary>Opens a page of the office and waits until it was read.</summary>
    public static async Task<IPage> OpenOfficeAsync(this IBrowserContext window, string key, string path = "")
    {
        var page = await window.OpenAsync($"/office/{path}#key={key}");
        await page.ReadAsync();
        return page;
    }

    /// <summary>Waits until nothing on the page says that it is still being read.</summary>
    public static async Task ReadAsync(this IPage page)
    {
        await page.GetByText("Live", new PageGetByTextOptions { Exact = true }).WaitForAsync();
        await page.WaitForFunctionAsync("() => ![...document.querySelectorAll('main [role=status]')].some(each => each.textContent.trim().endsWith('…'))");
    }
}
