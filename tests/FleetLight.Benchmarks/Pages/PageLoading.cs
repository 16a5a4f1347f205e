using System.Globalization;
using Microsoft.Playwright;

namespace FleetLight.Benchmarks.Pages;

/// <summary>
/// What the pages weigh on their first load, how long that takes on a poor link beside the plain transfer of the same bytes, and how
/// soon the page tells that it loads.
/// </summary>
internal static class PageLoading
{
    // A poor mobile link: 1.6 Mbit/s and 150 ms there and back, as web tools commonly take for a slow one (common practice, no source).
    private const double BitsPerSecond = 1_600_000;
    private const double LatencyMilliseconds = 150;

    /// <summary>Measures one page.</summary>
    public static async Task RunAsync(IBrowser browser, int port, string name, Report report)
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
            ["latency"] = LatencyMilliseconds,
            ["downloadThroughput"] = BitsPerSecond / 8,
            ["uploadThroughput"] = BitsPerSecond / 8,
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
        var plain = (bytes * 8 / BitsPerSecond) + (LatencyMilliseconds / 1000);
        report.Add($"(i) /{name}/, first load", Text($"{bytes / 1e6:0.00} MB over the wire in {files} files"), "", null, "");
        report.Add($"(i) /{name}/, ready on 1.6 Mbit/s and 150 ms", Text($"{ready:0.0} s"), Text($"plain transfer of the same bytes {plain:0.0} s"), ready / plain, "");
        report.Add($"(i) /{name}/, tells that it loads", Text($"after {Seconds(first)}, percent after {Seconds(progress)}"), Text($"ready after {ready:0.0} s"), null, "");
    }

    private static string Seconds(double? milliseconds) => milliseconds is { } known ? Text($"{known / 1000:0.0} s") : "never";

    private static string Text(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);
}
