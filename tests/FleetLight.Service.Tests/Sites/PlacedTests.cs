using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sites;

/// <summary>Things that were placed by tape: in whatever order and pages the facts come, and as the as-built data shows them.</summary>
public sealed class PlacedTests(FleetService service) : IClassFixture<FleetService>
{
    [Fact]
    public async Task A_box_follows_reference_points_that_come_after_it_and_move()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.BoxSealed("box-1") with { Position = null }, Taped("box-1"));
        await service.CaughtUpAsync();
        BoxView waiting = await organisation.Office.ReadAsync<BoxView>("/v1/boxes/box-1");
        await device.TellAsync(Point("a", 0), Point("b", 6));
        await service.CaughtUpAsync();
        BoxView placed = await organisation.Office.ReadAsync<BoxView>("/v1/boxes/box-1");
        await device.TellAsync(Point("a", 10), Point("b", 16));
        await service.CaughtUpAsync();
        BoxView moved = await organisation.Office.ReadAsync<BoxView>("/v1/boxes/box-1");

        Assert.Equal(PlacementStanding.Waiting, waiting.Placement!.Standing);
        Assert.Equal(PlacementStanding.Placed, placed.Placement!.Standing);
        // 3 m east of a, 4 m north of it; then 10 m further east.
        AssertAt(3, 4, placed.Position!);
        AssertAt(13, 4, moved.Position!);
        Assert.Equal(PositionMethod.Tape, moved.Position!.Method);
    }

    [Fact]
    public async Task The_as_built_data_says_how_well_each_place_is_known()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(
            Some.SiteOpened(), Point("a", 0), Point("b", 6), Some.BoxSealed("box-1"), Taped("box-1"), Some.DuctLaid(),
            Taped("duct-1") with { Kind = ThingKind.Duct, ChainageMetres = 7.5 });
        await service.CaughtUpAsync();

        JsonArray features = (await organisation.Office.GetAsync($"/v1/sites/{Some.Site}/as-built")).Json["features"]!.AsArray();
        JsonNode box = Feature(features, "box:box-1");

        Assert.Equal("tape", (string?)box["properties"]!["method"]);
        Assert.InRange((double)box["properties"]!["accuracyMetres"]!, 0.03, 0.2);
        Assert.Equal((double)box["properties"]!["accuracyMetres"]!, (double)box["properties"]!["errorEllipse"]!["semiMajorMetres"]!);
        Assert.Equal(["coordinates", "type"], box["geometry"]!.AsObject().Select(member => member.Key).Order());
        Assert.Equal("corner a", (string?)Feature(features, "reference-point:a")["properties"]!["name"]);
        Assert.Equal(7.5, (double)Feature(features, "duct-point:duct-1:7.5")["properties"]!["chainageMetres"]!);
        Assert.Equal("Point", (string?)Feature(features, "duct-point:duct-1:7.5")["geometry"]!["type"]);
    }

    [Fact]
    public async Task As_of_a_time_before_it_was_taped_it_is_where_the_phone_said()
    {
        (Organisation organisation, Device device) = await AddAsync();
        await device.TellAsync(Some.SiteOpened(), Some.BoxSealed("box-1") with { Position = At(20, 0, 8, PositionMethod.Phone) });
        await device.TellAsync(Point("a", 0), Point("b", 6), Taped("box-1"));
        await service.CaughtUpAsync();

        string before = Uri.EscapeDataString(Device.Began.AddMinutes(2).ToString("O"));
        JsonArray features = (await organisation.Office.GetAsync($"/v1/sites/{Some.Site}/as-built?asOf={before}")).Json["features"]!.AsArray();

        Assert.Equal("phone", (string?)Feature(features, "box:box-1")["properties"]!["method"]);
        Assert.DoesNotContain(features, feature => ((string?)feature!["id"])!.StartsWith("reference-point", StringComparison.Ordinal));
    }

    private async Task<(Organisation Organisation, Device Device)> AddAsync()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        return (organisation, await organisation.AddDeviceAsync());
    }

    private static ReferencePointRecorded Point(string id, double east) =>
        new() { SiteId = Some.Site, PointId = id, Name = $"corner {id}", Position = At(east, 0, 0.02, PositionMethod.Gnss) };

    private static PlaceMeasured Taped(string id) => new()
    {
        SiteId = Some.Site,
        Kind = ThingKind.Box,
        ThingId = id,
        Side = SideOfLine.Left,
        Tapes = [new() { From = "a", DistanceMetres = 5, AccuracyMetres = 0.04 }, new() { From = "b", DistanceMetres = 5, AccuracyMetres = 0.04 }],
    };

    // At 42° N a degree is 82,852 m by 111,071 m (WGS 84 radii of curvature).
    private static GeoPoint At(double east, double north, double accuracy, PositionMethod method) =>
        new() { Type = "Point", Coordinates = [-30 + (east / 82852.0), 42 + (north / 111071.0)], AccuracyMetres = accuracy, Method = method };

    private static void AssertAt(double east, double north, GeoPoint found)
    {
        Assert.Equal(-30 + (east / 82852.0), found.Coordinates[0], 3e-7);
        Assert.Equal(42 + (north / 111071.0), found.Coordinates[1], 3e-7);
    }

    private static JsonNode Feature(JsonArray features, string id) => features.Single(feature => (string?)feature!["id"] == id)!;
}
