using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Browsing;

/// <summary>What a page that a test has opened must always be.</summary>
internal static class Opened
{
    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();

    private static readonly object Everything = new { type = "tag", values = (string[])["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"] };

    // By night a page has the same parts in the same places: what can be another is contrast, and whether a link is told by more than colour.
    private static readonly object OfColour = new { type = "rule", values = (string[])["color-contrast", "link-in-text-block"] };

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
    public static Task IsSoundAsync(this IPage page) => page.IsSoundAsync(Everything);

    private static async Task IsSoundAsync(this IPage page, object rules)
    {
        // What fades in has its full contrast only once it stands.
        await page.EvaluateAsync(
            "Promise.allSettled(document.getAnimations().filter(each => Number.isFinite(each.effect?.getComputedTiming().endTime)).map(each => each.finished))");
        if (!await page.EvaluateAsync<bool>("'axe' in window")) await page.EvaluateAsync("script => { (0, eval)(script); }", Axe);
        var broken = await page.EvaluateAsync<string[]>(
            """
            rules => axe.run(document, { runOnly: rules, resultTypes: ['violations'] })
              .then(found => found.violations.flatMap(rule => rule.nodes.map(node => `${rule.id} (${rule.help}): ${node.html}`)))
            """,
            rules);
        Assert.True(broken.Length == 0, string.Join('\n', broken));
        Assert.False(await page.Locator("#blazor-error-ui").IsVisibleAsync(), "The page says that something in it failed.");
        // Drawings measure their room once more after the window has changed.
        var beyond = await page.EvaluateAsync<string[]>(
            """
            async () => {
              const isWide = () => document.documentElement.scrollWidth > innerWidth;
              for (let looks = 0; looks < 50 && isWide(); looks++) await new Promise(done => setTimeout(done, 100));
              const isBeyond = each => each.getBoundingClientRect().right > innerWidth + 1;
              return isWide() ? [...document.querySelectorAll('body *')].filter(isBeyond).map(each => each.outerHTML.slice(0, 150)) : [];
            }
            """);
        Assert.True(beyond.Length == 0, $"The page is wider than the window: {page.Url}\n{string.Join('\n', beyond)}");
    }

    /// <summary>
    /// The page that is open is sound on each of the screens, by day and by night; in pictures to be looked at. It is loaded once: the
    /// window changes its size and the person's wish for dark, as a phone does at dusk.
    /// </summary>
    public static async Task IsSoundOnAsync(this IPage page, string name, params Screen[] screens)
    {
        foreach (var screen in screens)
        {
            await page.SetViewportSizeAsync(screen.Width, screen.Height);
            foreach (var dark in (bool[])[false, true])
            {
                await page.TurnAsync(dark);
                await page.IsSoundAsync(dark ? OfColour : Everything);
                await page.PictureAsync($"{name}-{(screen == Screen.Phone ? "phone" : "desk")}-{(dark ? "dark" : "light")}");
            }
        }
    }

    /// <summary>Goes to another address inside the page that runs, as a link in it does, and waits for the heading there.</summary>
    public static async Task TurnToAsync(this IPage page, string path, string heading)
    {
        await page.EvaluateAsync("path => Blazor.navigateTo(path)", path);
        await page.Locator("h1").Filter(new LocatorFilterOptions { HasText = heading }).WaitForAsync();
    }

    // The page's own colours follow at once, those of its components once the page was told; drawings measure their room once more.
    private static async Task TurnAsync(this IPage page, bool dark)
    {
        await page.EmulateMediaAsync(new PageEmulateMediaOptions { ColorScheme = dark ? ColorScheme.Dark : ColorScheme.Light });
        await page.WaitForFunctionAsync(
            """
            () => {
              const of = name => getComputedStyle(document.documentElement).getPropertyValue(name).trim().toLowerCase();
              const theirs = of('--mud-palette-text-primary');
              return theirs === '' || theirs.startsWith(of('--ink')) || theirs === rgba(of('--ink'));
              function rgba(hex) { return `rgba(${[1, 3, 5].map(at => parseInt(hex.slice(at, at + 2), 16)).join(',')},1)`; }
            }
            """);
        await page.EvaluateAsync("new Promise(resolve => requestAnimationFrame(() => requestAnimationFrame(resolve)))");
    }

    /// <summary>
    /// Puts a picture of the whole page into TestResults/pictures, to be looked at; not in CI, where nobody looks and a picture takes
    /// as long as all checks of the page.
    /// </summary>
    public static async Task PictureAsync(this IPage page, string name)
    {
        if (Environment.GetEnvironmentVariable("CI") == "true") return;
        await page.ScreenshotAsync(new PageScreenshotOptions
        {
            Path = System.IO.Path.Combine(Repository.Root, "TestResults", "pictures", name + ".png"),
            FullPage = true,
            // The field page scrolls its middle only; a picture of all of it has to be as high as what is in there.
            Style = ".frame:has(> .places) { height: auto !important } .frame > .page { overflow: visible !important }",
        });
    }
}
