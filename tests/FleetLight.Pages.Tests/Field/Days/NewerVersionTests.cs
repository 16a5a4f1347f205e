using System.Text.RegularExpressions;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>A newer version of the page comes in the middle of a day.</summary>
public sealed class NewerVersionTests
{
    [Fact]
    public async Task It_waits_for_a_person_and_keeps_what_was_recorded()
    {
        var pages = Directory.CreateTempSubdirectory("fleetlight-pages-").FullName;
        Copy(Environment.GetEnvironmentVariable("Pages__Folder") ?? Path.Combine(AppContext.BaseDirectory, "pages"), pages);
        await using var service = await StartedService.StartAsync(TestContext.Current.CancellationToken, new Dictionary<string, string> { ["Pages__Folder"] = pages });
        var organisation = await Organisation.CreateAsync(await service.HostAsync());
        await Phone.PlanAsync(organisation);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, "urn:device:phone-1");
        await page.IsKeptWholeAsync();
        // The first visit is not under the worker yet.
        await page.ReloadAsync();
        await page.StartedAsync();
        await window.SetOfflineAsync(true);
        await page.OpenFormAsync("Duct laid");
        await page.GetByLabel("Length", new() { Exact = true }).FillAsync("8");
        await page.KeepAsync();
        await page.StandsAsync("1 fact waits: no signal.");

        MakeNewer(Path.Combine(pages, "field"));
        await window.SetOfflineAsync(false);
        await page.GetByText("A newer version is here.").WaitForAsync(new() { Timeout = 60_000 });
        await page.IsSoundAsync();
        await page.PictureAsync("field-newer");
        await page.Button("Take it now").ClickAsync();
        // The older version's files are dropped once the newer one has taken over.
        await page.WaitForFunctionAsync("async () => (await caches.keys()).join() === 'fleetlight-field-newer'");
        await page.StartedAsync();
        await page.StandsAsync("All is sent");

        await Phone.HasAsync(organisation, "urn:device:phone-1", 1);
        Directory.Delete(pages, true);
    }

    // What makes a version another one is the list of its files.
    private static void MakeNewer(string folder)
    {
        var list = Path.Combine(folder, "service-worker-assets.js");
        File.WriteAllText(list, Regex.Replace(File.ReadAllText(list), "\"version\": \"[^\"]*\"", "\"version\": \"newer\""));
        foreach (var coded in (string[])[list + ".br", list + ".gz"]) File.Delete(coded);
    }

    private static void Copy(string from, string to)
    {
        foreach (var file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            var target = Path.Combine(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(target)!);
            File.Copy(file, target);
        }
    }
}
