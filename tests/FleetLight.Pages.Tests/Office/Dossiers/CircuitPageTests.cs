using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Pages.Tests.Browsing;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>The page of a circuit.</summary>
public sealed class CircuitPageTests(RunningService service)
{
    [Fact]
    public async Task A_planted_fault_is_named_with_its_evidence_and_what_to_measure_next()
    {
        await using var desk = await Desk.OpenAsync(service);
        // The second fitting is of 2.6 W: 2.6 W / 0.35 A = 7.43 V in place of 4.57 V.
        await desk.Crew.SendAsync(desk.Crew.Record(Desk.Reading(12.27), Desk.On(20)));
        var page = await desk.GoAsync($"circuits/{Desk.Circuit}", "Terrace steps");

        await Assertions.Expect(page.Locator("[data-part=judged]")).ToContainTextAsync("Not as it should be");
        await Assertions.Expect(page.Locator("[data-part=causes] ol.causes > li").First).ToContainTextAsync("2.60 W");
        await Assertions.Expect(page.Locator("[data-part=causes]")).ToContainTextAsync("Measure next");
        var driver = page.Locator("[data-part=readings] tbody tr").First;
        await Assertions.Expect(driver).ToContainTextAsync("12.27 V");
        await Assertions.Expect(page.Locator("[data-part=budget] tbody tr").First).ToContainTextAsync("%");
        await Assertions.Expect(page.Locator("[data-part=history] svg").First).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("[data-part=materials]")).ToContainTextAsync("Lengths to cut");
        await Desk.LookAsync(page, "office-circuit");
    }

    [Fact]
    public async Task A_withdrawn_fact_stands_in_the_tale_with_what_became_of_it()
    {
        await using var desk = await Desk.OpenAsync(service);
        await desk.Crew.SendAsync(desk.Crew.Record(
            new FactCorrected
            {
                SiteId = Desk.Site,
                TargetId = "first-reading",
                TargetType = FactTypes.NameOf(typeof(ReadingTaken)),
                Action = CorrectionAction.Withdraw,
                Reason = "The lead was on the wrong terminal.",
            },
            Desk.On(10)));
        var page = await desk.GoAsync($"circuits/{Desk.Circuit}", "Terrace steps");

        await page.GetByLabel("Only what was withdrawn or replaced").CheckAsync();

        var line = page.Locator("[data-part=tale] tbody tr");
        await Assertions.Expect(line).ToHaveCountAsync(1);
        await Assertions.Expect(line).ToContainTextAsync("Read 9.41 V at the driver");
        await Assertions.Expect(line).ToContainTextAsync("The lead was on the wrong terminal.");
        await page.IsSoundAsync();
    }

    [Fact]
    public async Task It_is_shown_as_it_was_on_a_day_and_says_so()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"circuits/{Desk.Circuit}?on=2026-03-03", "Terrace steps");

        await Assertions.Expect(page.Locator(".notice").First).ToContainTextAsync("at the end of 3 March 2026");
        await Assertions.Expect(page.Locator("header .under")).ToContainTextAsync("Designed");
        // By then the cable was not pulled: what it takes and what it should read are of the design.
        await Assertions.Expect(page.Locator("[data-part=schematic] svg").First).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator("[data-part=budget] tbody tr").First).ToContainTextAsync("%");
        await Assertions.Expect(page.Locator("[data-part=materials]")).ToContainTextAsync("not yet");
        await Assertions.Expect(page.Locator("[data-part=history]")).ToContainTextAsync("Nothing was read yet.");
        await page.IsSoundAsync();
        await page.GetByRole(AriaRole.Link, new() { Name = "Show it as it is now" }).ClickAsync();
        await Assertions.Expect(page.Locator("header .under")).Not.ToContainTextAsync("· Designed");
    }

    [Fact]
    public async Task The_chart_of_readings_is_used_by_keys_alone()
    {
        await using var desk = await Desk.OpenAsync(service);
        await desk.Crew.SendAsync(desk.Crew.Record(Desk.Reading(9.42), Desk.On(11)), desk.Crew.Record(Desk.Reading(9.43), Desk.On(20)));
        var page = await desk.GoAsync($"circuits/{Desk.Circuit}", "Terrace steps");
        var chart = page.GetByRole(AriaRole.Group, new() { Name = "Left and right arrow go from reading to reading" });
        var told = page.Locator("[data-part=history] .told");
        var above = await page.EvaluateAsync<double>("scrollY");

        await chart.FocusAsync();
        above = await page.EvaluateAsync<double>("scrollY");
        await page.Keyboard.PressAsync("Home");
        await Assertions.Expect(told).ToContainTextAsync("9 Mar 2026");
        await page.Keyboard.PressAsync("ArrowRight");
        await Assertions.Expect(told).ToContainTextAsync("11 Mar 2026");
        await Assertions.Expect(chart.Locator(".point")).ToHaveCountAsync(3);
        await page.Keyboard.PressAsync("+");
        // Of eleven days the half around the 11th: the 20th is not among them.
        await Assertions.Expect(chart.Locator(".point")).ToHaveCountAsync(2);
        await page.Keyboard.PressAsync("0");
        await Assertions.Expect(chart.Locator(".point")).ToHaveCountAsync(3);
        Assert.Equal(above, await page.EvaluateAsync<double>("scrollY"));
        await page.Keyboard.PressAsync("Enter");
        var row = page.Locator("[data-part=history] tr:focus");
        await Assertions.Expect(row).ToContainTextAsync("11 Mar 2026");
        await page.IsSoundAsync();
    }

    [Fact]
    public async Task What_may_be_added_is_answered_with_its_reasons()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"circuits/{Desk.Circuit}", "Terrace steps");
        var form = page.Locator("[data-part=headroom]");

        await form.GetByLabel("Fittings more").FillAsync("9");
        await form.GetByLabel("Power of each, W").FillAsync("1.6");
        await form.GetByRole(AriaRole.Button, new() { Name = "May they be added?" }).ClickAsync();

        await Assertions.Expect(form.Locator(".answer")).ToContainTextAsync("No");
        await page.IsSoundAsync();
    }
}
