using System.Net;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json.Nodes;
using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FleetLight.OpenData.Tests.Cql;
using FleetLight.Testing.Builders;
using FleetLight.Testing.Service;
using FsCheck;
using FsCheck.Fluent;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

[Collection<OpenServices>]
public sealed class OgcTests(OpenService service)
{
    private const string Epsg = "http://www.opengis.net/def/crs/EPSG/0/";

    [Fact]
    public async Task From_the_landing_page_every_link_leads_somewhere()
    {
        HashSet<string> seen = [];
        Queue<string> waiting = new(["/ogc"]);
        while (waiting.TryDequeue(out string? path))
        {
            if (!seen.Add(path)) continue;
            Answer answer = (await service.Api.GetAsync(path)).Expect(HttpStatusCode.OK);
            if (answer.MediaType?.Contains("json", StringComparison.Ordinal) != true || path.StartsWith("/openapi", StringComparison.Ordinal)) continue;
            foreach (JsonNode link in LinksOf(answer.Json))
            {
                Uri href = new((string)link["href"]!);
                // Pages of the next kind are turned in another test; templates are filled in by clients; definitions are elsewhere.
                if (link["templated"] is not null || (string)link["rel"]! is "next" or "prev" || href.Host != "127.0.0.1") continue;
                Assert.NotNull(link["type"]);
                waiting.Enqueue(href.PathAndQuery);
            }
        }

        foreach (string collection in OpenService.Collections) Assert.Contains($"/ogc/collections/{collection}/items", seen);
        Assert.Contains("/ogc/conformance", seen);
        Assert.Contains("/openapi/v1.json", seen);
    }

    [Fact]
    public async Task What_is_held_to_is_declared()
    {
        string[] classes = [.. (await service.Api.GetAsync("/ogc/conformance")).Json["conformsTo"]!.AsArray().Select(each => (string)each!)];
        foreach (string one in (string[])["ogcapi-features-1/1.0/conf/core", "ogcapi-features-1/1.0/conf/geojson", "ogcapi-features-1/1.0/conf/html",
                     "ogcapi-features-2/1.0/conf/crs", "cql2/1.0/conf/basic-cql2"])
            Assert.Contains($"http://www.opengis.net/spec/{one}", classes);
    }

    [Fact]
    public async Task Every_collection_says_where_it_reaches_and_in_which_systems_it_can_be_had()
    {
        JsonNode collections = (await service.Api.GetAsync("/ogc/collections")).Json;
        Assert.Equal(OpenService.Collections, collections["collections"]!.AsArray().Select(each => (string)each!["id"]!));
        foreach (JsonNode? each in collections["collections"]!.AsArray())
        {
            Assert.Equal(each!.ToJsonString(), (await service.Api.GetAsync($"/ogc/collections/{(string)each["id"]!}")).Json.ToJsonString());
            Assert.Contains(Epsg + "32632", each["crs"]!.AsArray().Select(system => (string)system!));
            Assert.Equal("http://www.opengis.net/def/crs/OGC/1.3/CRS84", (string)each["storageCrs"]!);
        }

        double[] ducts = [.. collections["collections"]![0]!["extent"]!["spatial"]!["bbox"]![0]!.AsArray().Select(side => (double)side!)];
        Assert.Equal([10, -33.9001, 151.2004, 51.0004], ducts);
    }

    [Fact]
    public async Task Pages_give_every_feature_once_and_count_them()
    {
        List<JsonNode> boxes = await service.AllAsync("boxes");
        Assert.Equal(OpenService.Row + 2, boxes.Count);
        Assert.Equal(boxes.Count, OpenService.Ids(boxes).Distinct().Count());
        JsonNode first = (await service.Api.GetAsync("/ogc/collections/boxes/items?limit=7")).Json;
        Assert.Equal(OpenService.Row + 2, (int)first["numberMatched"]!);
        Assert.Equal(7, (int)first["numberReturned"]!);
        Assert.NotNull(first["timeStamp"]);
        List<string> readings = [];
        string? next = "/ogc/collections/readings/items?limit=2";
        while (next is not null)
        {
            JsonNode page = (await service.Api.GetAsync(next)).Json;
            readings.AddRange(page["features"]!.AsArray().Select(each => (string)each!["id"]!));
            next = Next(page);
        }

        Assert.Equal(OpenService.Ids(await service.AllAsync("readings")), readings.Order(StringComparer.Ordinal));
        Assert.Equal(readings.Count, readings.Distinct().Count());
    }

    [Theory]
    [InlineData("5000", 1000)]
    [InlineData("1000", 1000)]
    [InlineData("", 100)]
    public async Task A_limit_beyond_the_most_counts_as_the_most(string limit, int expected) => Assert.Equal(
        expected, (int)(await service.Api.GetAsync($"/ogc/collections/boxes/items{(limit.Length > 0 ? $"?limit={limit}" : "")}")).Json["numberReturned"]!);

    [Theory]
    [InlineData("ducts/items?limit=0", "limit")]
    [InlineData("ducts/items?limit=x", "limit")]
    [InlineData("ducts/items?bbox=1,2,3", "bbox")]
    [InlineData("ducts/items?bbox=1,2,x,4", "bbox")]
    [InlineData("ducts/items?bbox=1,5,2,4", "bbox")]
    [InlineData("ducts/items?bbox=200,5,2,4", "bbox")]
    [InlineData("ducts/items?bbox-crs=EPSG:1", "bbox-crs")]
    [InlineData("ducts/items?crs=EPSG:1", "crs")]
    [InlineData("ducts/items?datetime=soon", "datetime")]
    [InlineData("ducts/items?datetime=2026-02-01/2026-01-01", "datetime")]
    [InlineData("ducts/items?filter-lang=cql2-json", "filter-lang")]
    [InlineData("ducts/items?filter-crs=x", "filter-crs")]
    [InlineData("ducts/items?filter=lengthMetres%20%3E", "filter")]
    [InlineData("ducts/items?colours=red", "colours")]
    [InlineData("ducts/items?lengthMetres=long", "lengthMetres")]
    [InlineData("ducts/items?cursor=%2A%2A", "cursor")]
    [InlineData("ducts/items?f=xml", "f")]
    [InlineData("ducts/items/d1?bbox=1,2,3,4", "bbox")]
    [InlineData("ducts?x=1", "x")]
    [InlineData("ducts/queryables?f=html", "f")]
    public async Task What_is_not_understood_is_named(string path, string field)
    {
        Answer answer = await service.Api.GetAsync($"/ogc/collections/{path}");
        Assert.Equal(HttpStatusCode.BadRequest, answer.Status);
        Assert.Equal(field, (string)answer.Json["field"]!);
    }

    [Fact]
    public async Task A_bad_filter_is_refused_with_its_place() => Assert.Contains(
        "(at character 16)", (string)(await service.Api.GetAsync("/ogc/collections/ducts/items?filter=lengthMetres%20%3E%20'x'")).Json["detail"]!, StringComparison.Ordinal);

    [Theory]
    [InlineData("ducts", "bbox=10,51,10.0001,51.0001", "d1")]
    // Within the rectangle about the bent duct, and off the duct itself.
    [InlineData("ducts", "bbox=10.0004,51.00010,10.0009,51.00015", "")]
    [InlineData("ducts", "bbox=-180,-90,180,90", "d1 d3 e1")]
    [InlineData("ducts", "bbox=151,-34,10.00001,-33", "e1")]
    [InlineData("cables", "bbox=10.0008,51.0003,10.001,51.0005", "k1")]
    [InlineData("boxes", "bbox=10.0002,51.00005,0,10.0004,51.0002,500", "b1")]
    [InlineData("drivers", "bbox=51,10,51,10&bbox-crs=http://www.opengis.net/def/crs/EPSG/0/4326", "c1")]
    [InlineData("drivers", "bbox=1113100,6621200,1113300,6621400&bbox-crs=http://www.opengis.net/def/crs/EPSG/0/3857", "c1")]
    [InlineData("circuits", "bbox=10.0008,51.0003,10.001,51.0005", "c1")]
    [InlineData("fittings", "bbox=10,51,11,52", "c1~F1")]
    public async Task A_rectangle_finds_what_reaches_it(string collection, string query, string expected) => Assert.Equal(
        expected.Split(' ', StringSplitOptions.RemoveEmptyEntries), OpenService.Ids(await service.AllAsync(collection, "&" + query)));

    [Fact]
    public async Task Readings_are_found_by_where_they_were_taken()
    {
        Assert.Equal(2, (await service.AllAsync("readings", "&bbox=10,51,10,51")).Count);
        Assert.Single(await service.AllAsync("readings", "&bbox=10.0008,51.0003,10.001,51.0005"));
        Assert.Equal(4, (await service.AllAsync("readings", "&bbox=9,50,11,52")).Count);
        Assert.Equal(5, (await service.AllAsync("readings")).Count);
        Assert.Equal(3, (await service.AllAsync("readings", "&filter=place%20%3C%3E%20'driver'")).Count);
        Assert.Equal(4, (await service.AllAsync("readings", "&circuitId=c1&quantity=volts-dc")).Count);
        Assert.Equal(2, (await service.AllAsync("readings", "&datetime=2026-03-02T08:13:00Z/2026-03-02T08:14:00Z")).Count);
        foreach (JsonNode reading in await service.AllAsync("readings"))
        {
            JsonNode one = (await service.Api.GetAsync($"/ogc/collections/readings/items/{(string)reading["id"]!}")).Expect(HttpStatusCode.OK).Json;
            Assert.Equal(reading["properties"]!.ToJsonString(), one["properties"]!.ToJsonString());
        }
    }

    [Theory]
    [InlineData("cables", "datetime=2026-03-02", "k1 k2")]
    [InlineData("cables", "datetime=../2026-03-01", "")]
    [InlineData("cables", "datetime=2026-03-02T08:06:00Z", "k1")]
    [InlineData("cables", "datetime=2026-03-02T08:07:00Z/..", "k2")]
    [InlineData("ducts", "datetime=1999-01-01", "d1 d2 d3 e1")]
    [InlineData("ducts", "colour=red", "d3")]
    [InlineData("ducts", "colour=red&siteId=far", "")]
    [InlineData("ducts", "lengthMetres=12", "d2")]
    [InlineData("ducts", "siteId=far", "e1")]
    [InlineData("fittings", "circuitId=c1", "c1~F1 c1~F2")]
    [InlineData("fittings", "circuitId=c1&bbox=10,51,11,52", "c1~F1")]
    [InlineData("drivers", "circuitId=none", "")]
    public async Task Times_and_properties_find_what_they_name(string collection, string query, string expected) => Assert.Equal(
        expected.Split(' ', StringSplitOptions.RemoveEmptyEntries), OpenService.Ids(await service.AllAsync(collection, "&" + query)));

    [Fact]
    public async Task What_the_store_finds_is_what_the_filter_says()
    {
        int found = 0;
        foreach (FeatureKind kind in (FeatureKind[])
            [FeatureKinds.Ducts, FeatureKinds.Cables, FeatureKinds.Circuits, FeatureKinds.Drivers, FeatureKinds.Fittings, FeatureKinds.Readings])
        {
            List<FeatureRow> rows = [.. (await service.AllAsync(kind.Id)).Select(each => new FeatureRow(
                (string)each["id"]!, each["geometry"] is { } shape ? FeatureJson.ReadShape(shape.ToJsonString()) : null,
                FeatureJson.ReadProperties(kind, each["properties"]!.ToJsonString())))];
            // The seed stands for what is drawn: the same every time.
            foreach (CqlTest test in Filters.Of(kind).Sample(80, new Rnd(20251UL), 25))
            {
                string text = CqlWriter.Write(test);
                Answer answer = (await service.Api.GetAsync($"/ogc/collections/{kind.Id}/items?filter={Uri.EscapeDataString(text)}"));
                Assert.True(answer.Status == HttpStatusCode.OK, $"{kind.Id}: {text}: {answer.Text}");
                string[] expected = [.. rows.Where(row => CqlEvaluator.Ask(test, kind, row) is true).Select(row => row.Id).Order(StringComparer.Ordinal)];
                Assert.True(expected.SequenceEqual(OpenService.Ids(answer.Json["features"]!.AsArray().Select(each => each!))), text);
                Assert.Equal(expected.Length, (int)answer.Json["numberMatched"]!);
                found += expected.Length;
            }
        }

        Assert.True(found > 200, $"Only {found} features were found.");
    }

    [Fact]
    public async Task Shapes_come_in_the_system_that_was_asked_for()
    {
        Answer answer = await service.Api.GetAsync($"/ogc/collections/drivers/items/c1?crs={Epsg}32632");
        Assert.Equal($"<{Epsg}32632>", answer.Headers.GetValues("Content-Crs").Single());
        double[] at = [.. answer.Json["geometry"]!["coordinates"]!.AsArray().Select(each => (double)each!)];
        // 10 E is one degree east of the zone's meridian: about 70 km at 51 N.
        Assert.InRange(at[0], 569_900, 570_500);
        Assert.InRange(at[1], 5_650_000, 5_651_500);
        answer = await service.Api.GetAsync($"/ogc/collections/drivers/items?crs={Epsg}4326");
        Assert.Equal([51, 10], answer.Json["features"]![0]!["geometry"]!["coordinates"]!.AsArray().Select(each => (double)each!));
        Assert.Equal("<http://www.opengis.net/def/crs/OGC/1.3/CRS84>", (await service.Api.GetAsync("/ogc/collections/drivers/items")).Headers.GetValues("Content-Crs").Single());
        Assert.Equal(["c1"], OpenService.Ids(await service.AllAsync("drivers",
            $"&filter-crs={Epsg}32632&filter={Uri.EscapeDataString("S_INTERSECTS(geometry, BBOX(569000, 5650000, 571000, 5652000))")}")));
    }

    [Fact]
    public async Task What_has_no_position_has_no_shape_and_says_so()
    {
        foreach ((string collection, string id) in ((string, string)[])
            [("ducts", "d2"), ("cables", "k2"), ("boxes", "b2"), ("fittings", "c1~F2"), ("circuits", "c2"), ("drivers", "c2")])
        {
            JsonObject feature = (await service.Api.GetAsync($"/ogc/collections/{collection}/items/{id}")).Expect(HttpStatusCode.OK).Json.AsObject();
            Assert.True(feature.ContainsKey("geometry"));
            Assert.Null(feature["geometry"]);
        }

        Assert.Equal(HttpStatusCode.NotFound, (await service.Api.GetAsync("/ogc/collections/ducts/items/none")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await service.Api.GetAsync("/ogc/collections/none/items")).Status);
    }

    [Fact]
    public async Task Features_hold_what_their_schema_says()
    {
        foreach (string collection in OpenService.Collections)
        {
            JsonNode schema = (await service.Api.GetAsync($"/ogc/collections/{collection}/schema")).Json;
            JsonNode queryables = (await service.Api.GetAsync($"/ogc/collections/{collection}/queryables")).Json;
            Assert.EndsWith($"/ogc/collections/{collection}/queryables", (string)queryables["$id"]!, StringComparison.Ordinal);
            string[] names = [.. schema["properties"]!.AsObject().Select(each => each.Key).Where(name => name != "geometry")];
            List<JsonNode> features = await service.AllAsync(collection);
            Assert.NotEmpty(features);
            Assert.All(features, feature => Assert.Equal(names, feature["properties"]!.AsObject().Select(each => each.Key)));
        }
    }

    [Fact]
    public async Task Pages_to_read_come_where_they_are_asked_for_and_hold_nothing_that_runs()
    {
        foreach (string path in (string[])
            [
                "", "/conformance", "/collections", "/collections/ducts", "/collections/ducts/items", "/collections/ducts/items/d1",
                "/collections/boxes/items?limit=3",
            ])
        {
            Answer page = (await service.Api.GetAsync($"/ogc{path}", ("Accept", "text/html,application/xhtml+xml,*/*;q=0.8"))).Expect(HttpStatusCode.OK);
            Assert.Equal("text/html", page.MediaType);
            Assert.StartsWith("default-src 'none'; style-src 'sha256-", page.Headers.GetValues("Content-Security-Policy").Single(), StringComparison.Ordinal);
            Assert.DoesNotContain("<script", page.Text, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain(OpenService.Hostile, page.Text, StringComparison.Ordinal);
            Answer asked = await service.Api.GetAsync($"/ogc{path}{(path.Contains('?') ? "&" : "?")}f=html");
            Assert.Equal("text/html", asked.MediaType);
            Assert.Contains(
                "json", (await service.Api.GetAsync($"/ogc{path}{(path.Contains('?') ? "&" : "?")}f=json", ("Accept", "text/html"))).MediaType, StringComparison.Ordinal);
        }

        Assert.Contains(WebUtility.HtmlEncode(OpenService.Hostile), (await service.Api.GetAsync("/ogc/collections/ducts/items/d1?f=html")).Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_key_goes_as_a_password_too_and_shows_no_more_than_it_may()
    {
        static (string, string) Basic(string key) => ("Authorization", $"Basic {Convert.ToBase64String(Encoding.UTF8.GetBytes($"gis:{key}"))}");
        ApiClient anybody = service.Api.With(null);
        Assert.Equal(HttpStatusCode.OK, (await anybody.GetAsync("/ogc/collections", Basic(service.Api.Key!))).Status);
        Answer refused = await anybody.GetAsync("/ogc", Basic("wrong.key"));
        Assert.Equal(HttpStatusCode.Unauthorized, refused.Status);
        Assert.Contains("Basic realm=", refused.Headers.WwwAuthenticate.ToString(), StringComparison.Ordinal);
        // Nowhere else, and so for nothing that changes anything.
        Assert.Equal(HttpStatusCode.Unauthorized, (await anybody.GetAsync("/v1/sites", Basic(service.Api.Key!))).Status);

        ApiClient asBuilt = service.Api.With(await service.Organisation.MakeKeyAsync("read-as-built"));
        Assert.Equal(
            ["ducts", "cables", "boxes", "fittings", "drivers"],
            (await asBuilt.GetAsync("/ogc/collections")).Json["collections"]!.AsArray().Select(each => (string)each!["id"]!));
        foreach (string collection in (string[])["circuits", "readings", "alerts"])
        {
            foreach (string rest in (string[])["", "/items", "/items/c1", "/queryables", "/schema"])
                Assert.Equal(HttpStatusCode.Forbidden, (await asBuilt.GetAsync($"/ogc/collections/{collection}{rest}")).Status);
        }

        Assert.Equal(HttpStatusCode.Forbidden, (await service.Api.With(await service.Organisation.MakeKeyAsync("read-status")).GetAsync("/ogc")).Status);
    }

    [Fact]
    public async Task Another_organisation_sees_its_own_only()
    {
        Organisation other = await Organisation.CreateAsync(service.Host);
        foreach (string collection in OpenService.Collections)
        {
            JsonNode found = (await other.Office.GetAsync($"/ogc/collections/{collection}/items")).Expect(HttpStatusCode.OK).Json;
            Assert.Equal(0, (int)found["numberMatched"]!);
        }

        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.GetAsync("/ogc/collections/ducts/items/d1")).Status);
        string reading = OpenService.Ids(await service.AllAsync("readings"))[0];
        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.GetAsync($"/ogc/collections/readings/items/{reading}")).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await other.Office.GetAsync("/ogc/geopackage?site=yard")).Status);
        Assert.Empty((await other.Office.GetAsync("/ogc/collections/ducts/tiles/WebMercatorQuad/0/0/0")).Expect(HttpStatusCode.OK).Body);
    }

    [Fact]
    public async Task What_changes_is_followed_and_so_is_what_leans_on_it()
    {
        Organisation own = await Organisation.CreateAsync(service.Host);
        Device device = await own.AddDeviceAsync();
        await device.TellAsync(
            Facts.SiteOpened("s"), Facts.DuctLaid("d", siteId: "s"), Facts.CablePulled("k", ["d"], siteId: "s"), Facts.BoxSealed("b", gelFilled: false, siteId: "s"));
        await FoundAsync("/ogc/collections/cables/items/k", feature => feature["geometry"] is null);
        JsonNode alert = (await FoundAsync("/ogc/collections/alerts/items?subjectId=b", page => page["features"]!.AsArray().Count > 0))["features"]![0]!;
        Assert.Null(alert["geometry"]);

        // The cable's shape follows from its duct's route, the alert's from the box: neither is told of by itself.
        await device.TellAsync(
            Facts.DuctLaid("d", siteId: "s") with { Route = new() { Type = "LineString", Coordinates = [[7, 46], [7.001, 46]] } },
            Facts.BoxSealed("b", gelFilled: false, siteId: "s") with { Position = new() { Type = "Point", Coordinates = [7, 46] } });
        await FoundAsync("/ogc/collections/cables/items/k", feature => feature["geometry"] is not null);
        await FoundAsync($"/ogc/collections/alerts/items/{(string)alert["id"]!}", feature => feature["geometry"] is not null);
        await device.TellAsync(Facts.Joined(Contracts.ThingKind.Duct, "d-kept", "d", "s"));
        await Eventually.IsSoAsync(async () => (await own.Office.GetAsync("/ogc/collections/ducts/items/d")).Status == HttpStatusCode.NotFound, "the joined duct to go");

        Task<JsonNode> FoundAsync(string path, Func<JsonNode, bool> wanted) => Eventually.ReadAsync(
            async () => (await own.Office.GetAsync(path)).Json, found => found["status"] is null && wanted(found), path);
    }

    [Fact]
    public async Task A_geopackage_is_whole_and_can_be_resumed()
    {
        Answer whole = await service.Api.GetAsync("/ogc/geopackage");
        Assert.Equal("application/geopackage+sqlite3", whole.MediaType);
        Assert.Equal($"sha-256=:{Convert.ToBase64String(SHA256.HashData(whole.Body))}:", whole.Headers.GetValues("Repr-Digest").Single());
        string tag = whole.Headers.ETag!.ToString();
        Answer first = await service.Api.GetAsync("/ogc/geopackage", ("Range", "bytes=0-9999"));
        Answer rest = await service.Api.GetAsync("/ogc/geopackage", ("Range", "bytes=10000-"), ("If-Range", tag));
        Assert.Equal((HttpStatusCode.PartialContent, HttpStatusCode.PartialContent), (first.Status, rest.Status));
        Assert.True(whole.Body.AsSpan().SequenceEqual([.. first.Body, .. rest.Body]));
        Assert.Equal(HttpStatusCode.OK, (await service.Api.GetAsync("/ogc/geopackage", ("Range", "bytes=10000-"), ("If-Range", "\"other\""))).Status);
        Assert.Equal(HttpStatusCode.NotModified, (await service.Api.GetAsync("/ogc/geopackage", ("If-None-Match", tag))).Status);
        Assert.Equal(HttpStatusCode.RequestedRangeNotSatisfiable, (await service.Api.GetAsync("/ogc/geopackage", ("Range", "bytes=999999999-"))).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await service.Api.GetAsync("/ogc/geopackage?site=none")).Status);
    }

    private static IEnumerable<JsonNode> LinksOf(JsonNode node) => node switch
    {
        JsonObject members => members.SelectMany(member => member.Key == "links" ? member.Value!.AsArray().Select(link => link!) : member.Value is { } value ? LinksOf(value) : []),
        JsonArray items => items.SelectMany(item => item is null ? [] : LinksOf(item)),
        _ => [],
    };

    private static string? Next(JsonNode page) => OgcPagingTests.LinkOf(page, "next");
}

/// <summary>One service for all tests of this folder.</summary>
[CollectionDefinition]
public sealed class OpenServices : ICollectionFixture<OpenService>;
