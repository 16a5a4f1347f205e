using System.Collections.Concurrent;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office;

/// <summary>The office on 500 sites and 20,000 circuits.</summary>
public sealed class LargeTests(RunningService service)
{
    // Lines of a list in the document at once: what is in sight and some about it.
    private const int MostLines = 60;

    // How many times a plain read of the same page of the API may pass from the click to the lines. Seen: see the assertion's text.
    private const double MostTimesThePlainRead = 40;

    // Reads and clicks: the middle one counts.
    private const int Times = 5;

    [Fact]
    public async Task Lists_stay_quick_and_short_and_follow_what_changes()
    {
        var (organisation, crew) = await LargeFleet.CreateAsync(service);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Desktop);
        var page = await window.OpenOfficeAsync(organisation.Office.Key!);
        await page.GetByText("20,000 circuits", new PageGetByTextOptions { Exact = true }).First.WaitForAsync();
        await page.GetByText("500 sites", new PageGetByTextOptions { Exact = true }).First.WaitForAsync();
        Assert.InRange(await page.Locator("svg .mark").CountAsync(), 10, 250);
        Assert.InRange(await page.GetByRole(AriaRole.Region, new PageGetByRoleOptions { Name = "Sites" }).Locator("li.site").CountAsync(), 5, MostLines);
        await page.IsSoundAsync();
        await page.PictureAsync("office-large-fleet");

        await QuickAsync(page);
        await ShortAsync(page);
        await FollowsAsync(page, crew);
    }

    private static async Task QuickAsync(IPage page)
    {
        var read = await MiddleAsync(page, "fetch('/v1/circuits?limit=100', { headers: { Authorization: 'Bearer ' + sessionStorage.getItem('fleetlight-key') } }).then(answer => answer.json())", null);
        var shown = await MiddleAsync(
            page,
            """
            new Promise(done => {
              const look = () => document.querySelector('.list li.line:not(.waiting)') ? done() : requestAnimationFrame(look);
              document.querySelector('nav a[href="circuits"]').click();
              look();
            })
            """,
            """
            new Promise(done => {
              const look = () => document.querySelector('.list li.line:not(.waiting)') ? requestAnimationFrame(look) : done();
              document.querySelector('nav a[href="visits"]').click();
              look();
            })
            """);
        TestContext.Current.TestOutputHelper?.WriteLine($"Lines stand {shown:0} ms after the click, a plain read of the same takes {read:0} ms: {shown / read:0.0} times.");
        Assert.True(shown < MostTimesThePlainRead * Math.Max(read, 5), $"Lines stood {shown:0} ms after the click; a plain read of the same took {read:0} ms.");
    }

    private static async Task ShortAsync(IPage page)
    {
        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Circuits", Exact = true }).ClickAsync();
        var list = page.GetByRole(AriaRole.Region, new PageGetByRoleOptions { Name = "Circuits" });
        await list.GetByText("Lights 0", new LocatorGetByTextOptions { Exact = true }).WaitForAsync();
        for (var far = 1; far <= 4; far++)
        {
            await list.EvaluateAsync("list => list.scrollTop = list.scrollHeight");
            await list.GetByText($"Lights {(far * 100) + 50}", new LocatorGetByTextOptions { Exact = true }).WaitForAsync(new LocatorWaitForOptions { State = WaitForSelectorState.Attached });
            Assert.InRange(await list.Locator("li.line").CountAsync(), 1, MostLines);
        }

        await page.GetByLabel("Verdict").SelectOptionAsync("outside");
        await page.GetByText("21 circuits", new PageGetByTextOptions { Exact = true }).WaitForAsync();
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Clear filters" }).ClickAsync();
        await page.GetByLabel("Name or id").FillAsync("c19999");
        await page.GetByText("1 circuit", new PageGetByTextOptions { Exact = true }).WaitForAsync();
        await page.GetByLabel("Name or id").FillAsync("");
        await list.GetByText("Lights 0", new LocatorGetByTextOptions { Exact = true }).WaitForAsync();
    }

    private static async Task FollowsAsync(IPage page, Device crew)
    {
        ConcurrentQueue<string> asked = [];
        page.Request += (_, request) =>
        {
            if (request.Url.Contains("/v1/circuits", StringComparison.Ordinal)) asked.Enqueue(new Uri(request.Url).PathAndQuery);
        };
        await crew.TellAsync(CircuitFacts.Designed(LargeFleet.Recorded, name: "Fountain", siteId: "s000"));

        await page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Fountain" }).WaitForAsync();
        Assert.All(asked, path => Assert.Equal("/v1/circuits?limit=100", path));
    }

    private static async Task<double> MiddleAsync(IPage page, string what, string? before)
    {
        List<double> took = [];
        for (var turn = 0; turn < Times; turn++)
        {
            if (before is not null) await page.EvaluateAsync(before);
            took.Add(await page.EvaluateAsync<double>($"async () => {{ const began = performance.now(); await ({what}); return performance.now() - began; }}"));
        }

        took.Sort();
        return took[Times / 2];
    }
}
