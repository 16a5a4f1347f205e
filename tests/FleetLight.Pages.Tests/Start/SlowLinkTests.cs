using System.Globalization;
using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Start;

/// <summary>The first load of the field page on a slow link: it says how far it is, and comes as soon as the link allows.</summary>
public sealed class SlowLinkTests(RunningService service)
{
    // Slow enough that the link is what is waited for, quick enough for a test; the benchmark has the slower ones.
    private const double BitsPerSecond = 1_600_000;
    private const double LatencyMilliseconds = 400;

    [Fact]
    public async Task The_first_load_tells_how_far_it_is_and_takes_little_longer_than_its_bytes()
    {
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.NewPageAsync();
        var link = await window.NewCDPSessionAsync(page);
        await link.SendAsync("Network.enable");
        await link.SendAsync("Network.emulateNetworkConditions", new Dictionary<string, object>
        {
            ["offline"] = false,
            ["latency"] = LatencyMilliseconds,
            ["downloadThroughput"] = BitsPerSecond / 8,
            ["uploadThroughput"] = BitsPerSecond / 8,
        });
        double bytes = 0;
        link.Event("Network.loadingFinished").OnEvent += (_, told) => bytes += told!.Value.GetProperty("encodedDataLength").GetDouble();
        await page.AddInitScriptAsync(
            """
            window.shown = [];
            new MutationObserver(() => {
              const says = document.querySelector('#boot-says')?.textContent;
              if (says && shown.at(-1)?.says !== says) shown.push({ says, at: performance.now(), worker: !!navigator.serviceWorker.controller });
              if (!window.ready && document.querySelector('h1') && !document.querySelector('.boot')) window.ready = performance.now();
            }).observe(document, { childList: true, subtree: true, characterData: true });
            """);

        await page.GotoAsync("/field/", new PageGotoOptions { WaitUntil = WaitUntilState.Commit, Timeout = 120_000 });
        await page.GetByRole(AriaRole.Heading, new() { Name = "Enrol this phone" }).WaitForAsync(new LocatorWaitForOptions { Timeout = 120_000 });

        var says = await page.EvaluateAsync<string[]>("shown.map(each => each.says)");
        var times = await page.EvaluateAsync<double[]>("shown.map(each => each.at)");
        var ready = await page.EvaluateAsync<double>("window.ready");
        Assert.Equal("Loading.", says[0]);
        var percents = says.Where(each => each.EndsWith("is here.", StringComparison.Ordinal))
            .Select(each => int.Parse(each.AsSpan(9, each.IndexOf('%', StringComparison.Ordinal) - 10), CultureInfo.InvariantCulture)).ToArray();
        Assert.True(percents.Length >= 8, $"It told its progress {percents.Length} times.");
        Assert.Equal(percents.Order(), percents);
        Assert.InRange(percents[0], 0, 30);
        Assert.InRange(percents[^1], 80, 100);
        // That it loads is said while nine tenths of the wait are still to come.
        Assert.InRange(times[0] / ready, 0, 0.2);
        var plain = (bytes * 8 / BitsPerSecond * 1000) + LatencyMilliseconds;
        Assert.InRange(ready / plain, 0.8, 2);
    }
}
