using System.Net;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Field.Days;

/// <summary>What a person does with the field page, in the words that stand there.</summary>
internal static class Phone
{
    /// <summary>Office work before the day: the site is opened and its circuit designed.</summary>
    public static async Task PlanAsync(Organisation organisation)
    {
        var office = await organisation.AddDeviceAsync();
        await office.TellAsync(
            Facts.SiteOpened(name: "Mill Garden"),
            CircuitFacts.Designed(runs: [CircuitFacts.Run("r1", "driver", "F1", 14, cableId: "c-1"), CircuitFacts.Run("r2", "F1", "F2", 6, cableId: "c-2")]));
        await HasAsync(organisation, office.Source, 1, 2);
        await Eventually.ReadAsync(() => organisation.Office.GetAsync($"/v1/sites/{Facts.Site}"), site => site.Status == HttpStatusCode.OK, "the site");
    }

    /// <summary>The office gives a code for a phone; one for the same device again where its source is named.</summary>
    public static async Task<string> CodeAsync(Organisation organisation, string source) =>
        (await organisation.Office.PostAsync("/v1/enrolments", new { name = "phone", role = "device", source, sites = (string[])[Facts.Site] }))
        .Expect(HttpStatusCode.Created).Json["code"]!.GetValue<string>();

    /// <summary>Opens the picture's address, enrols, and goes to the site.</summary>
    public static async Task<IPage> EnrolAsync(this IBrowserContext window, Organisation organisation, string source)
    {
        var page = await window.OpenAsync($"/field/enrol#{await CodeAsync(organisation, source)}");
        await page.Button("Enrol this phone").ClickAsync();
        await page.GetByText("This phone has its key.").WaitForAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Choose a site" }).Last.ClickAsync();
        await page.Button("Mill Garden").ClickAsync();
        await page.Heading("What did you just do?").WaitForAsync();
        return page;
    }

    /// <summary>Opens a form of the first page.</summary>
    public static async Task OpenFormAsync(this IPage page, string title)
    {
        await page.GetByRole(AriaRole.Link, new() { Name = title, Exact = true }).First.ClickAsync();
        await page.Heading(title).WaitForAsync();
    }

    /// <summary>Keeps what the form says, and waits until it is kept.</summary>
    public static async Task KeepAsync(this IPage page)
    {
        await page.Button("Keep it").ClickAsync();
        await page.GetByText("Kept on this phone:").WaitForAsync();
    }

    /// <summary>Waits until the line on sending says that.</summary>
    public static Task StandsAsync(this IPage page, string says) => page.GetByTestId("standing").Filter(new() { HasText = says }).WaitForAsync(new() { Timeout = 60_000 });

    /// <summary>Waits until the page is kept on the phone whole.</summary>
    public static Task IsKeptWholeAsync(this IPage page) => page.EvaluateAsync("() => navigator.serviceWorker.ready.then(() => true)");

    /// <summary>Waits until the service has facts of a device under these numbers, each once, and no others.</summary>
    public static Task HasAsync(Organisation organisation, string source, params int[] numbers) => Eventually.ReadAsync(
        async () => string.Join(' ', await NumbersAsync(organisation, source)), found => found == string.Join(' ', numbers), $"the facts of {source}");

    private static async Task<int[]> NumbersAsync(Organisation organisation, string source) =>
    [
        .. (await organisation.Office.ReadAsync<Contracts.Views.FactPage>($"/v1/facts?source={Uri.EscapeDataString(source)}&limit=1000")).Items
            .Select(fact => fact.RunningNumber).Order(),
    ];

    /// <summary>A button.</summary>
    public static ILocator Button(this IPage page, string name) => page.GetByRole(AriaRole.Button, new() { Name = name });

    /// <summary>The page's heading.</summary>
    public static ILocator Heading(this IPage page, string name) => page.GetByRole(AriaRole.Heading, new() { Name = name, Level = 1 });
}
