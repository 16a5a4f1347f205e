using System.Text;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;
using FleetLight.PageParts.Wording;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Testing.Service;
using Microsoft.Playwright;

namespace FleetLight.Pages.Tests.Office.Dossiers;

/// <summary>The sheet on which designs are made.</summary>
public sealed class DesignPageTests(RunningService service)
{
    private const string Mistaken =
        """
        Row,Circuit,Id,Site,Name,Drive,Rated current (mA),Rated power (W),Most voltage (V),From,To,Length (m),Area (mm2),Conductor class
        circuit,k-pond,,s-terraces,Pond edge,constant-current,350,,36,,,,,
        fitting,k-pond,p1,,,,,1.6,,,,,,
        fitting,k-pond,p2,,,,,1.6 watts,,,,,,
        run,k-pond,q1,,,,,,,driver,p1,12,1.5,class5
        run,k-pond,q2,,,,,,,p1,p2,6,1.5,class5
        """;

    [Fact]
    public async Task A_mistake_in_an_imported_row_is_mended_where_it_stands_and_what_is_saved_reads_as_the_service_says()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"design?site={Desk.Site}", "Design a circuit");
        await page.Locator("input[type=file]").SetInputFilesAsync(new FilePayload { Name = "pond.csv", MimeType = "text/csv", Buffer = Encoding.UTF8.GetBytes(Mistaken) });

        var mistake = page.Locator(".imported tbody tr");
        await Assertions.Expect(mistake).ToHaveCountAsync(1);
        await Assertions.Expect(mistake.Locator("th")).ToHaveTextAsync("4");
        await Assertions.Expect(mistake).ToContainTextAsync("'1.6 watts' is no number.");
        var field = page.GetByLabel("Power, W, fitting 2");
        await Assertions.Expect(field).ToHaveAttributeAsync("aria-invalid", "true");
        await Assertions.Expect(page.GetByText("row 4 of the file")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Save the design" })).ToBeDisabledAsync();
        await Desk.LookAsync(page, "office-design-mistake");

        await field.FillAsync("1.6");
        var first = page.Locator("[data-part=expectation] tbody tr").First;
        await Assertions.Expect(first).ToContainTextAsync("Driver");
        await page.GetByRole(AriaRole.Button, new() { Name = "Put the file away" }).ClickAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the design" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Saved.")).ToBeVisibleAsync(new() { Timeout = 30_000 });

        var view = await Eventually.ReadAsync(
            async () => (await desk.Organisation.Office.GetAsync("/v1/circuits/k-pond")).As<CircuitView>(), known => known.Expected.Count > 0, "what the service expects");
        foreach (var expected in view.Expected.Where(each => each is { Quantity: ReadingQuantity.VoltsDc, Place: ReadingPlaceKind.Driver or ReadingPlaceKind.Fitting }))
        {
            var row = page.Locator("[data-part=expectation] tbody tr")
                .Filter(new() { Has = page.GetByRole(AriaRole.Rowheader, new() { Name = expected.PlaceId ?? "Driver", Exact = true }) });
            await Assertions.Expect(row).ToContainTextAsync(Figures.Of(expected.Expected.Value, ReadingQuantity.VoltsDc));
            await Assertions.Expect(row).ToContainTextAsync(Figures.Between(expected.Expected.Low, expected.Expected.High, ReadingQuantity.VoltsDc));
        }

        await Desk.LookAsync(page, "office-design");
    }

    [Fact]
    public async Task Rows_are_added_moved_and_removed_by_keys_alone()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"design?circuit={Desk.Circuit}", "Change the design of Terrace steps");
        await Assertions.Expect(page.GetByLabel("Fitting, fitting 2")).ToHaveValueAsync("f2");

        await page.GetByLabel("Fitting, fitting 2").FocusAsync();
        await page.Keyboard.PressAsync("Alt+ArrowUp");
        await Assertions.Expect(page.GetByLabel("Fitting, fitting 1")).ToHaveValueAsync("f2");
        await Assertions.Expect(page.GetByLabel("Fitting, fitting 1")).ToBeFocusedAsync();
        await page.GetByLabel("Fitting, fitting 2").FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Fitting, fitting 3")).ToBeFocusedAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Remove fitting 3" }).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Fitting, fitting 3")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task What_was_not_saved_is_there_when_the_page_is_opened_again_and_gone_once_it_is_saved()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"design?circuit={Desk.Circuit}", "Change the design of Terrace steps");
        await page.GetByLabel("Power, W, fitting 1").FillAsync("2.2 or so");
        await page.GetByLabel("Power, W, fitting 2").FillAsync("2");
        await page.WaitForFunctionAsync("() => Object.values({ ...localStorage }).some(each => each.includes('2.2 or so'))");

        await page.CloseAsync();
        page = await desk.GoAsync($"design?circuit={Desk.Circuit}", "Change the design of Terrace steps");

        await Assertions.Expect(page.GetByText("A draft, not recorded.")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByLabel("Power, W, fitting 1")).ToHaveValueAsync("2.2 or so");
        await Assertions.Expect(page.GetByLabel("Power, W, fitting 2")).ToHaveValueAsync("2");
        await Desk.LookAsync(page, "office-design-draft");
        await page.GetByLabel("Power, W, fitting 1").FillAsync("2");
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the design" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Saved.")).ToBeVisibleAsync(new() { Timeout = 30_000 });
        await page.ReloadAsync();
        await page.StartedAsync();
        await page.GetByRole(AriaRole.Heading, new() { Name = "Change the design of Terrace steps" }).WaitForAsync();
        await Assertions.Expect(page.GetByText("A draft, not recorded.")).ToHaveCountAsync(0);
        await page.GetByLabel("Power, W, fitting 1").FillAsync("3");
        await page.ReloadAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "Drop the draft" }).ClickAsync();
        await Assertions.Expect(page.GetByLabel("Power, W, fitting 1")).ToHaveValueAsync("2");
        Assert.Equal(0, await page.EvaluateAsync<int>("localStorage.length"));
    }

    [Fact]
    public async Task A_design_that_cannot_work_says_why_and_loses_nothing_while_the_service_is_out_of_reach()
    {
        await using var desk = await Desk.OpenAsync(service);
        var page = await desk.GoAsync($"design?circuit={Desk.Circuit}", "Change the design of Terrace steps");

        await page.GetByLabel("Power, W, fitting 1").FillAsync("16");
        await Assertions.Expect(page.Locator("[data-part=expectation]")).ToContainTextAsync("It cannot work as designed.");
        await page.GetByLabel("Power, W, fitting 1").FillAsync("2");
        await Assertions.Expect(page.Locator("[data-part=expectation] tbody tr").First).ToContainTextAsync("Driver");
        await page.Context.SetOfflineAsync(true);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the design" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Nothing of the sheet is lost")).ToBeVisibleAsync(new() { Timeout = 30_000 });
        await Assertions.Expect(page.GetByLabel("Power, W, fitting 1")).ToHaveValueAsync("2");
        await page.Context.SetOfflineAsync(false);
        await page.GetByRole(AriaRole.Button, new() { Name = "Save the design" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Saved.")).ToBeVisibleAsync(new() { Timeout = 30_000 });
    }
}
