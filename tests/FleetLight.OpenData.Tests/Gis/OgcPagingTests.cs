using System.Net;
using System.Text.Json.Nodes;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

[Collection<OpenServices>]
public sealed class OgcPagingTests(OpenService service)
{
    [Theory]
    [InlineData("boxes", 100, "")]
    [InlineData("boxes", 7, "&filter=label%20LIKE%20'R10%25'")]
    [InlineData("boxes", 50, "&bbox=10.001,50,10.0065,52")]
    [InlineData("readings", 2, "")]
    [InlineData("readings", 1, "&circuitId=c1")]
    [InlineData("readings", 1, "&bbox=9,50,11,52")]
    public async Task Pages_are_turned_back_as_they_were_turned_on(string collection, int limit, string query)
    {
        List<string[]> on = [];
        string? next = $"/ogc/collections/{collection}/items?limit={limit}{query}";
        JsonNode page = null!;
        while (next is not null)
        {
            page = (await service.Api.GetAsync(next)).Expect(HttpStatusCode.OK).Json;
            on.Add(InOrder(page));
            Assert.Equal(on.Count > 1, LinkOf(page, "prev") is not null);
            next = LinkOf(page, "next");
        }

        Assert.True(on.Count > 2, $"Only {on.Count} pages.");
        List<string[]> back = [on[^1]];
        while (LinkOf(page, "prev") is { } previous)
        {
            Answer answer = (await service.Api.GetAsync(previous)).Expect(HttpStatusCode.OK);
            page = answer.Json;
            back.Insert(0, InOrder(page));
            // What lies ahead is where it was.
            Assert.Equal(back[1], InOrder((await service.Api.GetAsync(LinkOf(page, "next")!)).Json));
            Assert.Contains("rel=\"next\"", string.Join(", ", answer.Headers.GetValues("Link")), StringComparison.Ordinal);
        }

        Assert.Equal(on, back);
    }

    [Fact]
    public async Task A_number_is_remembered_only_as_long_as_it_is_so()
    {
        Organisation own = await Organisation.CreateAsync(service.Host);
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(Facts.SiteOpened("s"), Facts.DuctLaid("d1", siteId: "s"), Facts.DuctLaid("d2", siteId: "s"), Facts.DuctLaid("d3", siteId: "s"));
        const string first = "/ogc/collections/ducts/items?limit=1";
        JsonNode page = await CountedAsync(first, 3);
        string second = LinkOf(page, "next")!;
        Assert.Equal(3, (int)(await own.Office.GetAsync(second)).Json["numberMatched"]!);
        await device.TellAsync(Facts.DuctLaid("d4", siteId: "s"));
        await CountedAsync(second, 4);
        await CountedAsync(first, 4);

        Task<JsonNode> CountedAsync(string path, int expected) => Eventually.ReadAsync(
            async () => (await own.Office.GetAsync(path)).Json, found => found["numberMatched"] is { } matched && (int)matched == expected, path);
    }

    [Fact]
    public async Task What_is_read_stands_below_what_it_is_part_of()
    {
        string page = (await service.Api.GetAsync("/ogc/collections/boxes/items?f=html&limit=2")).Text;
        string header = page[page.IndexOf("<header>", StringComparison.Ordinal)..page.IndexOf("</header>", StringComparison.Ordinal)];
        Assert.Single(header.Split("Boxes").Skip(1));
        Assert.Contains("Next page", page, StringComparison.Ordinal);
    }

    internal static string? LinkOf(JsonNode page, string relation) =>
        page["links"]!.AsArray().FirstOrDefault(link => (string)link!["rel"]! == relation) is { } link ? new Uri((string)link["href"]!).PathAndQuery : null;

    private static string[] InOrder(JsonNode page) => [.. page["features"]!.AsArray().Select(each => (string)each!["id"]!)];
}
