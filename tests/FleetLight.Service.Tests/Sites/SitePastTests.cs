using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Sites;

/// <summary>What stood on a site on any day, and what was known of it.</summary>
/// <remarks>The tests of this class put the clock on, so each has a service of its own.</remarks>
public sealed class SitePastTests : IAsyncLifetime
{
    private static readonly DateTimeOffset Spring = new(2041, 3, 1, 9, 0, 0, TimeSpan.Zero);
    private readonly FleetService service = new();
    private Organisation organisation = null!;
    private Device device = null!;

    public async ValueTask InitializeAsync()
    {
        await service.InitializeAsync();
        organisation = await service.AddOrganisationAsync();
        device = await organisation.AddDeviceAsync();
    }

    public ValueTask DisposeAsync() => service.DisposeAsync();

    [Fact]
    public async Task The_plan_holds_what_was_built_by_a_day()
    {
        await AtAsync(Spring, Some.SiteOpened(), Some.DuctLaid(), Some.CircuitDesigned(watts: [1.6]));
        await AtAsync(Spring.AddDays(1), Some.CablePulled(), Some.BoxSealed());
        await AtAsync(Spring.AddDays(2), Some.FittingFixed(1), Some.DriverConnected());
        await AtAsync(Spring.AddDays(3), Some.Reading(1));
        await service.CaughtUpAsync();

        Assert.Equal(HttpStatusCode.NotFound, (await GetAsync("sites/site-1/as-built", Spring.AddSeconds(-1))).Status);
        Assert.Equal(["driver:circuit-1", "duct:duct-1", "fitting:fitting-1", "site:site-1"], await IdsAsync(Spring));
        Assert.Equal(
            ["box:box-1", "cable:cable-1", "driver:circuit-1", "duct:duct-1", "fitting:fitting-1", "site:site-1"], await IdsAsync(Spring.AddDays(1)));
        Assert.Null((await FeatureAsync("fitting:fitting-1", Spring.AddDays(1)))["geometry"]);
        Assert.NotNull((await FeatureAsync("fitting:fitting-1", Spring.AddDays(2)))["geometry"]);
        Assert.Empty((await FeatureAsync("duct:duct-1", Spring))["properties"]!["cableIds"]!.AsArray());
        Assert.Equal("designed", (string?)(await FeatureAsync("driver:circuit-1", Spring))["properties"]!["phase"]);
        Assert.Equal("unread", (string?)(await FeatureAsync("fitting:fitting-1", Spring.AddDays(2)))["properties"]!["verdict"]);
        Assert.Equal("outside", (string?)(await FeatureAsync("fitting:fitting-1", Spring.AddDays(3)))["properties"]!["verdict"]);
        Assert.Equal((await GetAsync("sites/site-1/as-built")).Text, (await GetAsync("sites/site-1/as-built", Spring.AddDays(9))).Text);
    }

    [Fact]
    public async Task What_was_known_only_later_is_left_out_where_that_is_asked()
    {
        await AtAsync(Spring, Some.SiteOpened(), Some.DuctLaid());
        await AtAsync(Spring.AddDays(5), Correct.Withdraw("0002", Some.DuctLaid()));
        await service.CaughtUpAsync();

        Assert.Equal(["site:site-1"], await IdsAsync(Spring.AddDays(1)));
        Assert.Equal(["duct:duct-1", "site:site-1"], await IdsAsync(Spring.AddDays(1), Spring.AddDays(1)));
    }

    [Fact]
    public async Task A_thing_that_was_moved_to_another_site_later_stood_here_before()
    {
        await AtAsync(Spring, Some.BoxSealed(), Some.SiteOpened("site-2"));
        await AtAsync(Spring.AddDays(5), Some.BoxSealed(site: "site-2"));
        await service.CaughtUpAsync();

        string?[] before = [.. await IdsAsync(Spring.AddDays(1))];
        string? now = (await organisation.Office.ReadAsync<BoxView>("/v1/boxes/box-1")).SiteId;

        Assert.Equal(["box:box-1"], before);
        Assert.Equal(now == "site-1", (await GetAsync("sites/site-1/as-built")).Status == HttpStatusCode.OK);
    }

    [Fact]
    public async Task Every_thing_is_told_as_of_a_time()
    {
        await AtAsync(Spring, Some.SiteOpened(), Some.DuctLaid(), Some.BoxSealed(), Some.CablePulled());
        await AtAsync(Spring.AddDays(1), Some.SiteOpened(name: "Rose garden"), Some.DuctLabelled(), Some.CableLabelled(), Some.JointMade());
        await service.CaughtUpAsync();

        foreach ((string path, string member) in (IEnumerable<(string, string)>)
                 [("ducts/duct-1", "labels"), ("cables/cable-1", "labels"), ("boxes/box-1", "joints"), ("sites/site-1", "name")])
        {
            JsonNode before = (await GetAsync(path, Spring.AddHours(1))).Expect(HttpStatusCode.OK).Json;
            Answer now = await GetAsync(path);
            Assert.NotEqual(before[member]?.ToJsonString(), now.Json[member]!.ToJsonString());
            Assert.Equal(now.Text, (await GetAsync(path, Spring.AddDays(2))).Text);
            Assert.Equal(before.ToJsonString(), (await GetAsync(path, knownBy: Spring.AddHours(1))).Json.ToJsonString());
            Assert.Equal(HttpStatusCode.NotFound, (await GetAsync(path, Spring.AddDays(-1))).Status);
            Assert.Equal("asOf", (await organisation.Office.GetAsync($"/v1/{path}?asOf=then")).Expect(HttpStatusCode.BadRequest).As<Problem>().Field);
        }
    }

    [Fact]
    public async Task The_plan_says_what_a_drawing_needs()
    {
        await AtAsync(Spring, Some.DuctLaid(), Some.DuctLabelled(), Some.CablePulled(), Some.CircuitDesigned(), Some.BoxSealed(), Some.FittingFixed(1));
        await AtAsync(Spring.AddDays(1), Some.JointMade());
        await service.CaughtUpAsync();

        JsonNode duct = (await FeatureAsync("duct:duct-1"))["properties"]!;
        Assert.Equal(("duct", "duct-1", "L1", "orange", 50, 1.96), ((string?)duct["kind"], (string?)duct["id"], (string?)duct["label"],
            (string?)duct["colour"], (double?)duct["boreMillimetres"], (double?)duct["fillPercent"]));
        // The square root of 45 % of 50² less 7², mm.
        Assert.Equal(Math.Sqrt((0.45 * 2500) - 49), (double)duct["thickestMoreMillimetres"]!, 0.01);
        Assert.Equal(("B1", false), ((string?)(await FeatureAsync("box:box-1"))["properties"]!["label"], (bool?)(await FeatureAsync("box:box-1"))["properties"]!["isSealed"]));
        Assert.True((bool?)(await FeatureAsync("box:box-1", Spring.AddHours(2)))["properties"]!["isSealed"]);
        JsonNode fitting = (await FeatureAsync("fitting:fitting-1"))["properties"]!;
        Assert.Equal(("circuit-1", "unread", "cabled"), ((string?)fitting["circuitId"], (string?)fitting["verdict"], (string?)fitting["phase"]));
    }

    private async Task<IEnumerable<string?>> IdsAsync(DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null) =>
        (await GetAsync("sites/site-1/as-built", asOf, knownBy)).Expect(HttpStatusCode.OK).Json["features"]!.AsArray().Select(each => (string?)each!["id"]).Order();

    private async Task<JsonNode> FeatureAsync(string id, DateTimeOffset? asOf = null) =>
        (await GetAsync("sites/site-1/as-built", asOf)).Json["features"]!.AsArray().Single(each => (string?)each!["id"] == id)!;

    private Task<Answer> GetAsync(string path, DateTimeOffset? asOf = null, DateTimeOffset? knownBy = null)
    {
        string[] asked = [.. Part("asOf", asOf), .. Part("knownBy", knownBy)];
        return organisation.Office.GetAsync($"/v1/{path}?{string.Join('&', asked)}");

        static string[] Part(string name, DateTimeOffset? at) => at is { } time ? [$"{name}={Uri.EscapeDataString(time.ToString("O"))}"] : [];
    }

    private async Task AtAsync(DateTimeOffset at, params IFact[] facts)
    {
        service.Clock.Now = at;
        await device.SendAsync([.. facts.Select(fact => device.Record(fact, at))]);
    }
}
