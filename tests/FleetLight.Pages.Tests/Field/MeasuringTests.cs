using System.Text.RegularExpressions;
using FleetLight.Contracts.Views;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Pages.Tests.Field.Days;
using FleetLight.Testing.Service;
using Microsoft.Playwright;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Field;

/// <summary>At the driver with a meter and no signal.</summary>
public sealed partial class MeasuringTests(RunningService service)
{
    [Fact]
    public async Task A_reading_is_judged_offline_as_the_service_judges_it()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone);
        var page = phone.Page;
        await phone.GoAsync("Measure", "Measure");
        await page.GetByLabel("Circuit", new() { Exact = true }).SelectOptionAsync("Terrace");
        await Expect(page.GetByLabel("Volts, direct")).ToBeCheckedAsync();
        await page.IsSoundAsync();
        await phone.Window.SetOfflineAsync(true);

        // One fitting passed by: three of four voltages.
        await page.GetByLabel("What does the meter show?").FillAsync("13,9");

        await Expect(page.Locator(".verdict-line")).ToHaveTextAsync(NotRight());
        var why = await page.Locator(".why").TextContentAsync();
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "What would explain it" })).ToBeVisibleAsync(new() { Timeout = 60_000 });
        await Expect(page.GetByRole(AriaRole.Heading, new() { Name = "Measure next" })).ToBeVisibleAsync();
        var causes = await page.Locator(".causes li p:first-child").AllTextContentsAsync();
        await page.IsSoundOnAsync("measuring", Screen.Desktop, Screen.Phone);

        await page.GetByRole(AriaRole.Button, new() { Name = "Keep this reading" }).ClickAsync();
        await Expect(page.GetByText("13.90 V at the driver is kept on this phone.")).ToBeVisibleAsync();
        await phone.Window.SetOfflineAsync(false);

        var state = await TakenAsync(phone.Organisation.Office, GardenPhone.Loop.CircuitId);
        Assert.Equal(CircuitVerdict.Outside, state.Verdict);
        Assert.Equal(state.LastReadings[0].Why, why);
        Assert.Equal(state.Explanations.Count, causes.Count);
        Assert.All(state.Explanations.Zip(causes), pair => Assert.StartsWith(FirstSentence(pair.Second), pair.First.Says, StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_verdict_follows_every_keystroke_and_the_place()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone);
        var page = phone.Page;
        await phone.GoAsync("Measure", "Measure");
        await page.GetByLabel("Circuit", new() { Exact = true }).SelectOptionAsync("Terrace");
        var shows = page.GetByLabel("What does the meter show?");

        await shows.PressSequentiallyAsync("1");
        await Expect(page.Locator(".verdict-line")).ToHaveTextAsync(NotRight());
        await shows.PressSequentiallyAsync("8.5");
        await Expect(page.Locator(".verdict-line")).ToHaveTextAsync(Right());
        await shows.FillAsync("18..5");
        await Expect(page.GetByText("That is no number")).ToBeVisibleAsync();
        await page.IsSoundAsync();
        await page.GetByLabel("Loop resistance, driver off").CheckAsync();
        await Expect(page.GetByText("lock it off and prove it dead")).ToBeVisibleAsync();
        await page.GetByLabel("Where is the meter?").SelectOptionAsync("f2");
        await Expect(page.GetByLabel("Volts, direct")).ToBeCheckedAsync();
        await shows.FillAsync("4.6");
        await Expect(page.Locator(".verdict-line")).ToHaveTextAsync(Right());

        await page.ReloadAsync();
        await page.StartedAsync();
        await Expect(page.GetByLabel("Where is the meter?")).ToHaveValueAsync("f2");
    }

    [Fact]
    public async Task A_circuit_that_comes_after_the_page_was_opened_is_taken()
    {
        var organisation = await service.AddOrganisationAsync();
        var office = await organisation.AddDeviceAsync();
        await office.TellAsync(Testing.Builders.Facts.SiteOpened(name: "Mill Garden"));
        await Phone.HasAsync(organisation, office.Source, 1);
        await using var window = await Browser.OpenAsync(service.Url, Screen.Phone);
        var page = await window.EnrolAsync(organisation, "urn:device:phone-1");
        await page.TurnToAsync("measure", "Measure");
        await page.GetByText("No circuit is designed on this site yet.").WaitForAsync();

        await office.TellAsync(Testing.Builders.CircuitFacts.Designed());
        await Phone.HasAsync(organisation, office.Source, 1, 2);
        await page.EvaluateAsync("() => fleetlightSender.send({ cutShort: true }).then(() => null)");

        // The only one of the site.
        await page.GetByLabel("What does the meter show?").WaitForAsync();
    }

    [Fact]
    public async Task While_the_causes_of_a_large_circuit_are_worked_out_the_page_answers_and_it_can_be_given_up()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone, false, GardenPhone.Avenue);
        var page = phone.Page;
        await phone.GoAsync("Measure", "Measure");
        await page.GetByLabel("Circuit", new() { Exact = true }).SelectOptionAsync("Avenue");
        var shows = page.GetByLabel("What does the meter show?");
        // What the browser calls a long task: so long the page answers nothing.
        await page.EvaluateAsync(
            """
            () => {
              window.stops = [];
              new PerformanceObserver(seen => stops.push(...seen.getEntries().map(one => one.duration))).observe({ type: 'longtask' });
            }
            """);
        // Far from what 200 fittings leave passed by.
        await shows.FillAsync("21");
        await page.GetByText("go on measuring meanwhile").WaitForAsync();
        await shows.FillAsync("20");
        await Expect(page.Locator(".verdict-line")).ToHaveTextAsync(NotRight());
        await page.GetByText("go on measuring meanwhile").WaitForAsync();

        // Deep in the work: past what is the same for every circuit. Within the page, at its first free moment, as a finger does: from
        // outside, and looking whether the button stands still, the click would come when the work is done.
        await page.EvaluateAsync(
            """
            async () => {
              await new Promise(done => setTimeout(done, 700));
              [...document.querySelectorAll('button')].find(each => each.textContent.trim() === 'Give it up').click();
            }
            """);

        var longest = await page.EvaluateAsync<double>("Math.max(0, ...stops)");
        TestContext.Current.TestOutputHelper!.WriteLine($"Longest stop of the page: {longest:0} ms.");
        // Some tenths of a second with the machine to itself; a step that is not short takes a browser tens of seconds.
        Assert.True(longest < 5_000, $"The page stood still for {longest:0} ms.");
        await Expect(page.GetByText("Given up. The verdict stands")).ToBeVisibleAsync();
        await Expect(page.GetByText("go on measuring meanwhile")).ToHaveCountAsync(0);
        await Expect(page.Locator(".verdict-line")).ToHaveTextAsync(NotRight());
        await page.IsSoundAsync();
    }

    private static Task<CircuitView> TakenAsync(ApiClient office, string circuit) =>
        Eventually.ReadAsync(() => office.ReadAsync<CircuitView>($"/v1/circuits/{circuit}"), state => state.LastReadings.Count > 0, "the reading that the phone sends");

    private static string FirstSentence(string told) => Share().Replace(told, "").Trim();

    [GeneratedRegex("^(less than |more than )?\\d+ %")]
    private static partial Regex Share();

    [GeneratedRegex("^\\s*Not as it should be\\s*$")]
    private static partial Regex NotRight();

    [GeneratedRegex("^\\s*As it should be\\s*$")]
    private static partial Regex Right();
}
