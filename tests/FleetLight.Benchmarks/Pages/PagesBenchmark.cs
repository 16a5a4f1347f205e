using Microsoft.Playwright;

namespace FleetLight.Benchmarks.Pages;

/// <summary>The pages in the machine's Chromium, on the service as it is served.</summary>
internal static class PagesBenchmark
{
    private static readonly string[] Places = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];

    /// <summary>Measures loading and judging.</summary>
    public static async Task RunAsync(string postgres, Report report)
    {
        if (Array.Find(Places, File.Exists) is not { } path)
        {
            Console.WriteLine("  pages: there is no Chromium here; as root: apt-get install chromium");
            return;
        }

        await using var server = await Server.StartAsync(postgres);
        using var playwright = await Playwright.CreateAsync();
        await using var browser = await playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
        {
            ExecutablePath = path,
            Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
        });
        await PageLoading.RunAsync(browser, server.Port, "field", report);
        await PageLoading.RunAsync(browser, server.Port, "office", report);
        await PageVerdict.RunAsync(browser, server, report);
    }
}
