using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Service.Tests.Approvals;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sites;

public sealed class AsBuiltTests(AsBuiltTests.Built built) : IClassFixture<AsBuiltTests.Built>
{
    // Plain counts; every other number says its unit in its name.
    private static readonly string[] Counts = ["spareCores"];
    private static readonly string[] Units = ["Metres", "Millimetres", "Degrees", "Percent", "SquareMillimetres", "Watts"];

    [Fact]
    public async Task It_is_a_feature_collection_as_RFC_7946_asks()
    {
        Answer answer = await built.AsBuiltAsync();

        Assert.Equal((HttpStatusCode.OK, "application/geo+json"), (answer.Status, answer.MediaType));
        JsonObject collection = answer.Json.AsObject();
        Assert.Equal("FeatureCollection", (string?)collection["type"]);
        Assert.All(collection["features"]!.AsArray(), feature => AssertFeature(feature!.AsObject()));
    }

    [Fact]
    public async Task It_holds_everything_on_the_site_once()
    {
        JsonArray features = (await built.AsBuiltAsync()).Json["features"]!.AsArray();

        Assert.Equal(
            ["box:box-1", "cable:cable-1", "driver:circuit-1", "duct:duct-1", "fitting:fitting-1", "fitting:fitting-2", "site:site-1"],
            features.Select(feature => (string?)feature!["id"]).Order());
    }

    [Fact]
    public async Task A_thing_has_the_geometry_that_was_recorded_or_null()
    {
        JsonArray features = (await built.AsBuiltAsync()).Json["features"]!.AsArray();

        Assert.Equal("LineString", GeometryType(features, "duct:duct-1"));
        Assert.Equal("Point", GeometryType(features, "box:box-1"));
        Assert.Equal("Point", GeometryType(features, "driver:circuit-1"));
        Assert.Equal("Point", GeometryType(features, "fitting:fitting-1"));
        Assert.Null(GeometryType(features, "fitting:fitting-2"));
        Assert.Null(GeometryType(features, "cable:cable-1"));
        Assert.Equal([-0.12, 51.5], Feature(features, "site:site-1")["geometry"]!["coordinates"]!.AsArray().Select(each => (double)each!));
    }

    [Fact]
    public async Task Every_number_says_its_unit()
    {
        JsonArray features = (await built.AsBuiltAsync()).Json["features"]!.AsArray();

        string[] numbers = [.. features.SelectMany(feature => feature!["properties"]!.AsObject())
            .Where(property => property.Value?.GetValueKind() == System.Text.Json.JsonValueKind.Number)
            .Select(property => property.Key).Distinct()];
        Assert.Contains("boreMillimetres", numbers);
        Assert.Contains("ratedWatts", numbers);
        Assert.All(numbers, name => Assert.True(
            Counts.Contains(name) || Units.Any(unit => name.EndsWith(unit, StringComparison.Ordinal)), $"{name} says no unit."));
    }

    [Fact]
    public async Task It_says_what_a_digger_and_an_electrician_need()
    {
        JsonArray features = (await built.AsBuiltAsync()).Json["features"]!.AsArray();

        JsonNode duct = Feature(features, "duct:duct-1")["properties"]!;
        Assert.Equal(("lighting-extra-low-voltage", "orange", 350), ((string?)duct["service"], (string?)duct["colour"], (double?)duct["depthMillimetres"]));
        Assert.Equal(["cable-1"], duct["cableIds"]!.AsArray().Select(each => (string?)each));
        JsonNode cable = Feature(features, "cable:cable-1")["properties"]!;
        Assert.Equal((25, 0.75, 1), ((double?)cable["lengthMetres"], (double?)cable["areaSquareMillimetres"], (int?)cable["spareCores"]));
        Assert.Equal((true, "flat-in-ground"), ((bool?)Feature(features, "box:box-1")["properties"]!["gelFilled"], (string?)Feature(features, "box:box-1")["properties"]!["lie"]));
    }

    [Fact]
    public async Task A_thing_that_turned_out_to_be_another_stands_there_once()
    {
        Organisation organisation = await built.AddOrganisationAsync();
        Device device = await organisation.AddDeviceAsync();
        await device.TellAsync(
            Some.BoxSealed("box-a"), Some.BoxSealed("box-b"),
            new ThingsJoined { SiteId = Some.Site, Kind = ThingKind.Box, KeptId = "box-a", SameId = "box-b" });
        await built.CaughtUpAsync();

        JsonArray features = (await organisation.Office.GetAsync($"/v1/sites/{Some.Site}/as-built")).Json["features"]!.AsArray();

        Assert.Equal(["box:box-a"], features.Select(feature => (string?)feature!["id"]));
    }

    [Fact]
    public async Task A_site_of_which_nobody_recorded_anything_is_not_found()
    {
        Approved.Same("Sites", "no such site", await built.Organisation.Office.GetAsync("/v1/sites/nowhere/as-built"));
        Approved.Same("Sites", "no such site", await built.Organisation.Office.GetAsync("/v1/sites/nowhere"));
    }

    private static void AssertFeature(JsonObject feature)
    {
        Assert.Equal("Feature", (string?)feature["type"]);
        Assert.True(feature.ContainsKey("geometry"), "A feature has a geometry, if only null.");
        Assert.IsType<JsonObject>(feature["properties"]);
        if (feature["geometry"] is not { } geometry) return;
        JsonArray coordinates = geometry["coordinates"]!.AsArray();
        switch ((string?)geometry["type"])
        {
            case "Point":
                AssertPosition(coordinates);
                break;
            case "LineString":
                Assert.True(coordinates.Count >= 2);
                Assert.All(coordinates, position => AssertPosition(position!.AsArray()));
                break;
            default:
                Assert.Fail($"{geometry["type"]} is no geometry that is recorded.");
                break;
        }
    }

    private static void AssertPosition(JsonArray position)
    {
        Assert.InRange(position.Count, 2, 3);
        Assert.InRange((double)position[0]!, -180, 180);
        Assert.InRange((double)position[1]!, -90, 90);
    }

    private static JsonNode Feature(JsonArray features, string id) => features.Single(feature => (string?)feature!["id"] == id)!;

    private static string? GeometryType(JsonArray features, string id) => (string?)Feature(features, id)["geometry"]?["type"];

    /// <summary>A site with one of everything on it.</summary>
    public sealed class Built : FleetService
    {
        internal Organisation Organisation { get; private set; } = null!;

        internal Task<Answer> AsBuiltAsync() => Organisation.Office.GetAsync($"/v1/sites/{Some.Site}/as-built");

        public override async ValueTask InitializeAsync()
        {
            await base.InitializeAsync();
            Organisation = await AddOrganisationAsync();
            Device device = await Organisation.AddDeviceAsync();
            await device.TellAsync(
                Some.SiteOpened(), Some.DuctLaid(), Some.CablePulled(), Some.BoxSealed(), Some.CircuitDesigned(), Some.FittingFixed(1),
                Some.DriverConnected(), Some.DuctLaid("elsewhere", "site-2"));
            await CaughtUpAsync();
        }
    }
}
