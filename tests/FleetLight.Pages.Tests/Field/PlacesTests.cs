using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Pages.Tests.Browsing;
using FleetLight.Pages.Tests.Field.Days;
using FleetLight.Testing.Service;
using static Microsoft.Playwright.Assertions;

namespace FleetLight.Pages.Tests.Field;

/// <summary>Reference points and tapes on the phone, and finding a thing again by them.</summary>
public sealed class PlacesTests(RunningService service)
{
    [Fact]
    public async Task A_box_is_taped_from_two_points_and_found_again_by_tape()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone, false, Point("p1", "Corner of the garage", 0), Point("p2", "Gate post", 6));
        var page = phone.Page;
        await page.TurnToAsync("t/box/b1", "Box by the steps");
        await page.OpenFormAsync("Place measured");
        var tapes = page.Locator(".tape");

        // Three taps and the two figures: each tape begins at the next point.
        await page.Button("Add a tape").ClickAsync();
        await tapes.Nth(0).GetByLabel("Distance to it").FillAsync("5");
        await page.Button("Add another tape").ClickAsync();
        await tapes.Nth(1).GetByLabel("Distance to it").FillAsync("5");
        await Expect(tapes.Nth(0).GetByLabel("From which point")).ToHaveValueAsync("p1");
        await Expect(tapes.Nth(1).GetByLabel("From which point")).ToHaveValueAsync("p2");
        await page.IsSoundOnAsync("place-tapes", Screen.Phone, Screen.Desktop);
        await page.GetByText("left", new() { Exact = true }).First.ClickAsync();

        // What is seldom told is folded away and says what is wrong with it where it stands.
        await tapes.Nth(1).GetByText("Aslope, or less sure").ClickAsync();
        await tapes.Nth(1).GetByLabel("It lies higher than the point by").FillAsync("5");
        await Expect(tapes.Nth(1).GetByText("not smaller than the tape")).ToBeVisibleAsync();
        await page.GetByText("More", new() { Exact = true }).ClickAsync();
        await page.IsSoundOnAsync("place-more", Screen.Phone, Screen.Desktop);
        await tapes.Nth(1).GetByLabel("It lies higher than the point by").FillAsync("0,4");
        await page.KeepAsync();

        await page.TurnToAsync("t/box/b1", "Box by the steps");
        await Expect(page.GetByText("5.00 m from Corner of the garage, 5.00 m from Gate post")).ToBeVisibleAsync();
        await Expect(page.GetByText("Find it by tape")).ToBeVisibleAsync();
        await Expect(page.GetByText("Before you dig")).ToBeVisibleAsync();
        await page.IsSoundOnAsync("place-found", Screen.Phone, Screen.Desktop);
        await Eventually.ReadAsync(
            () => phone.Organisation.Office.ReadAsync<BoxView>("/v1/boxes/b1"), box => box.Placement?.Tapes is [_, { ResidualMetres: not null }], "the place that the phone sends");
    }

    [Fact]
    public async Task A_driver_and_a_fitting_say_where_they_are()
    {
        await using var phone = await GardenPhone.OpenAsync(
            service, Screen.Phone, false, Point("p1", "Corner of the garage", 0), Point("p2", "Gate post", 6),
            Measured(null) with { Offset = new() { From = "p1", To = "p2", AlongMetres = 2, SquareMetres = 0.5, Side = SideOfLine.Right } },
            Measured("f2") with { Position = new GeoPoint { Type = "Point", Coordinates = [-30, 42], AccuracyMetres = 4, Method = PositionMethod.Phone } });
        var page = phone.Page;

        await page.TurnToAsync("t/circuit/k-terrace", "Terrace");

        await Expect(page.GetByText("by phone, within 4 m")).ToBeVisibleAsync();
        await Expect(page.Locator("dd").Filter(new() { HasText = "Corner of the garage" })).ToHaveCountAsync(1);
        await page.IsSoundOnAsync("place-circuit", Screen.Phone, Screen.Desktop);
    }

    [Fact]
    public async Task A_reference_point_is_recorded_with_its_name_alone_and_more_where_there_is_more()
    {
        await using var phone = await GardenPhone.OpenAsync(service, Screen.Phone, false, Point("p1", "Corner of the garage", 0));
        var page = phone.Page;
        await page.TurnToAsync("record/reference-point", "Reference point");
        await page.IsSoundOnAsync("point", Screen.Phone, Screen.Desktop);
        await page.GetByText("More", new() { Exact = true }).ClickAsync();
        await page.GetByLabel("To the right").FillAsync("3,2");
        await page.IsSoundOnAsync("point-more", Screen.Phone, Screen.Desktop);
        await page.GetByLabel("What it is, so that a stranger finds it").FillAsync("Column of the porch");
        await page.Button("Keep it").ClickAsync();
        await Expect(page.Locator("[data-field='local.yMetres']").GetByText("This is needed.")).ToBeVisibleAsync();
        await page.GetByLabel("Upwards").FillAsync("4");

        await page.KeepAsync();
    }

    private static PlaceMeasured Measured(string? fitting) => new() { SiteId = GardenPhone.Site, Kind = ThingKind.Circuit, ThingId = "k-terrace", FittingId = fitting };

    // At 42° N a degree east is 82,852 m (WGS 84).
    private static ReferencePointRecorded Point(string id, string name, double east) => new()
    {
        SiteId = GardenPhone.Site,
        PointId = id,
        Name = name,
        Position = new GeoPoint { Type = "Point", Coordinates = [-30 + (east / 82852), 42], AccuracyMetres = 0.02, Method = PositionMethod.Gnss },
    };
}
