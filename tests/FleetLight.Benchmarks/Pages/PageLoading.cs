using System.Globalization;
using Microsoft.Playwright;

namespace FleetLight.Benchmarks.Pages;

/// <summary>
/// What the pages weigh on their first load, how long that takes on a poor link beside the plain transfer of the same bytes, and how
/// soon the page tells that it loads.
/// </summary>
internal static class PageLoading
{
    // The edge of a cell, a poor mobile link, and a good one (common practice, no source).
    private static readonly Link[] Links =
        [new("400 kbit/s and 400 ms", 400_000, 400), new("1.6 Mbit/s and 150 ms", 1_600_000, 150), new("20 Mbit/s and 30 ms", 20_000_000, 30)];

    /// <summary>Measures one page on each link.</summary>
    public static async Task RunAsync(IBrowser browser, int port, string name, Report report)
    {
        foreach (var link in Links) await RunAsync(browser, port, name, link, report);
    }

    private sealed record Link(string Says, double BitsPerSecond, double LatencyMilliseconds);

    private static async Task RunAsync(IBrowser browser, int port, string name, Link by, Report report)
    {
        await using var context = await browser.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = $"http://127.0.0.1:{port}",
            ServiceWorkers = ServiceWorkerPolicy.Block,
            // What waits for the page to be ready is a script of ours, which the page's policy would not let run.
            BypassCSP = true,
        });
        var page = await context.NewPageAsync();
        var link = await context.NewCDPSessionAsync(page);
        await link.SendAsync("Network.enable");
        await link.SendAsync("Network.emulateNetworkConditions", new Dictionary<string, object>
        {
            ["offline"] = false,
            ["latency"] = by.LatencyMilliseconds,
            ["downloadThroughput"] = by.BitsPerSecond / 8,
            ["uploadThroughput"] = by.BitsPerSecond / 8,
        });
        double bytes = 0;
        var files = 0;
        link.Event("Network.loadingFinished").OnEvent += (_, told) =>
        {
            bytes += told!.Value.GetProperty("encodedDataLength").GetDouble();
            files++;
        };
        await page.AddInitScriptAsync(
            """
            window.shown = {};
            new MutationObserver(() => {
              shown.first ??= document.querySelector('#boot-says') ? performance.now() : undefined;
              if (/%/.test(document.querySelector('#boot-says')?.textContent ?? '')) shown.progress ??= performance.now();
              if (document.querySelector('h1') && !document.querySelector('.boot')) shown.ready ??= performance.now();
            }).observe(document, { childList: true, subtree: true, characterData: true });
            """);
        await page.GotoAsync($"/{name}/", new PageGotoOptions { Timeout = 300_000, WaitUntil = WaitUntilState.Commit });
        await page.WaitForFunctionAsync("shown.ready", null, new PageWaitForFunctionOptions { Timeout = 300_000 });
        var ready = await page.EvaluateAsync<double>("shown.ready") / 1000;
        var first = await page.EvaluateAsync<double?>("shown.first ?? null");
        var progress = await page.EvaluateAsync<double?>("shown.progress ?? null");
        var plain = (bytes * 8 / by.BitsPerSecond) + (by.LatencyMilliseconds / 1000);
        if (by == Links[0]) report.Add($"(i) /{name}/, first load", Text($"{bytes / 1e6:0.00} MB over the wire in {files} files"), "", null, "");
        report.Add($"(i) /{name}/, ready on {by.Says}", Text($"{ready:0.0} s"), Text($"plain transfer of the same bytes {plain:0.0} s"), ready / plain, "");
        report.Add(
            $"(i) /{name}/, tells that it loads, on {by.Says}", Text($"after {Seconds(first)}, percent after {Seconds(progress)}"), Text($"ready after {ready:0.0} s"), null, "");
    }

    private static string Seconds(double? milliseconds) => milliseconds is { } known ? Text($"{known / 1000:0.0} s") : "never";

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
