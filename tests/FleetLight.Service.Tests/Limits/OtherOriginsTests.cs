using System.Net;
using FleetLight.Service.Tests.Hosting;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.Service.Tests.Limits;

/// <summary>A service whose open data a page of one other origin may read.</summary>
public sealed class SharingService : FleetService
{
    public const string Maps = "https://maps.example";

    protected override IEnumerable<KeyValuePair<string, string?>> Settings => [new("OpenData:Origins:0", Maps)];
}

/// <summary>What browsers let pages of other origins read, and what they do not.</summary>
public sealed class OtherOriginsTests(SharingService service) : IClassFixture<SharingService>
{
    private const string Allowed = "Access-Control-Allow-Origin";

    [Theory]
    [InlineData("/ogc")]
    [InlineData("/ogc/collections/ducts/items")]
    [InlineData("/ogc/geopackage")]
    [InlineData("/v1/export/facts")]
    [InlineData("/v1/export/tables/ducts")]
    [InlineData("/v1/export/manifest")]
    public async Task A_browser_asks_first_and_is_told_what_may_be_sent(string path)
    {
        Answer answer = await service.Anybody.SendAsync(
            HttpMethod.Options, path, null,
            ("Origin", SharingService.Maps), ("Access-Control-Request-Method", "GET"), ("Access-Control-Request-Headers", "authorization,range"));

        Assert.Equal(HttpStatusCode.NoContent, answer.Status);
        Assert.Equal(SharingService.Maps, answer.Headers.GetValues(Allowed).Single());
        Assert.Contains("Authorization", answer.Headers.GetValues("Access-Control-Allow-Headers").Single(), StringComparison.OrdinalIgnoreCase);
        Assert.False(answer.Headers.Contains("Access-Control-Allow-Credentials"));
    }

    [Fact]
    public async Task A_page_that_is_named_reads_with_a_key_in_a_header_and_nothing_without()
    {
        Organisation organisation = await service.AddOrganisationAsync();
        Answer answer = (await organisation.Office.GetAsync("/ogc/collections", ("Origin", SharingService.Maps))).Expect(HttpStatusCode.OK);
        Assert.Equal(SharingService.Maps, answer.Headers.GetValues(Allowed).Single());
        Assert.Contains("Link", answer.Headers.GetValues("Access-Control-Expose-Headers").Single(), StringComparison.Ordinal);
        // What a browser sends by itself opens nothing to a page: that would take this header.
        Assert.False(answer.Headers.Contains("Access-Control-Allow-Credentials"));

        // A page has to be able to tell its person why.
        Answer refused = await service.Anybody.GetAsync("/ogc/collections", ("Origin", SharingService.Maps));
        Assert.Equal(HttpStatusCode.Unauthorized, refused.Status);
        Assert.Equal(SharingService.Maps, refused.Headers.GetValues(Allowed).Single());
    }

    [Theory]
    [InlineData("https://elsewhere.example")]
    [InlineData("http://maps.example")]
    [InlineData("https://maps.example.elsewhere.example")]
    [InlineData("null")]
    public async Task Other_pages_are_told_nothing(string origin)
    {
        Answer asked = await service.Anybody.SendAsync(
            HttpMethod.Options, "/ogc", null, ("Origin", origin), ("Access-Control-Request-Method", "GET"), ("Access-Control-Request-Headers", "authorization"));
        Assert.False(asked.Headers.Contains(Allowed));
        Assert.False((await service.Host.GetAsync("/ogc", ("Origin", origin))).Headers.Contains(Allowed));
    }

    [Theory]
    [InlineData("GET", "/v1/circuits")]
    [InlineData("POST", "/v1/events")]
    [InlineData("GET", "/v1/keys")]
    [InlineData("POST", "/ogc")]
    public async Task Nothing_else_is_open_to_a_page_that_is_named(string method, string path)
    {
        Answer asked = await service.Anybody.SendAsync(
            HttpMethod.Options, path, null, ("Origin", SharingService.Maps), ("Access-Control-Request-Method", method), ("Access-Control-Request-Headers", "authorization"));
        bool mayRead = asked.Headers.Contains(Allowed) && asked.Headers.GetValues("Access-Control-Allow-Methods").Single().Contains(method, StringComparison.Ordinal);
        Assert.False(mayRead);
    }

    [Theory]
    [InlineData("https://maps.example/tool")]
    [InlineData("maps.example")]
    [InlineData("null")]
    public async Task A_setting_that_is_no_origin_ends_the_start(string wrong)
    {
        InvalidOperationException thrown = await Assert.ThrowsAsync<InvalidOperationException>(() => Task.FromResult(FleetLight.Service.Hosting.ServiceHost.Build(
            ["--ConnectionStrings:FleetLight=Host=127.0.0.1;Database=none", $"--OpenData:Origins:0={wrong}"])));

        Assert.Contains(wrong, thrown.Message, StringComparison.Ordinal);
    }
}
