using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Browsing;

/// <summary>What a page that a test has opened must always be.</summary>
internal static class Opened
{
    /// <summary>Opens an address and waits until the page has started.</summary>
    public static async Task<IPage> OpenAsync(this IBrowserContext context, string path)
    {
        var page = await context.NewPageAsync();
        await page.GotoAsync(path);
        await page.StartedAsync();
        return page;
    }

    /// <summary>Waits until the page has started: its loading text is gone and it has a heading.</summary>
    public static async Task StartedAsync(this IPage page)
    {
        await page.Locator(".boot").WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Detached, Timeout = 60_000 });
        await page.Locator("h1").First.WaitForAsync();
    }

    /// <summary>
    /// Nothing that axe-core can tell breaks WCAG 2.2 A or AA, nothing in the page failed, and nothing leaves the window sideways.
    /// </summary>
    public static async Task IsSoundAsync(this IPage page)
    {
        // What fades in has its full contrast only once it stands.
        await page.EvaluateAsync(
            "Promise.allSettled(document.getAnimations().filter(each => Number.isFinite(each.effect?.getComputedTiming().endTime)).map(each => each.finished))");
        var found = await page.RunAxe(new Deque.AxeCore.Commons.AxeRunOptions
        {
            RunOnly = new Deque.AxeCore.Commons.RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] },
        });
        Assert.True(
            found.Violations.Length == 0,
            string.Join('\n', found.Violations.SelectMany(rule => rule.Nodes.Select(node => $"{rule.Id} ({rule.Help}): {node.Html}"))));
        Assert.False(await page.Locator("#blazor-error-ui").IsVisibleAsync(), "The page says that something in it failed.");
        Assert.True(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"), "The page is wider than the window.");
    }

    /// <summary>Puts a picture of the whole page into TestResults/pictures, to be looked at.</summary>
    public static Task PictureAsync(this IPage page, string name) => page.ScreenshotAsync(new PageScreenshotOptions
    {
        Path = System.IO.Path.Combine(Repository.Root, "TestResults", "pictures", name + ".png"),
        FullPage = true,
        // The field page scrolls its middle only; a picture of all of it has to be as high as what is in there.
        Style = ".frame:has(> .places) { height: auto !important } .frame > .page { overflow: visible !important }",
    });
}
