using System.Globalization;
using System.Net;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using FleetLight.OpenData.Crs;
using FleetLight.Testing.Service;
using Xunit;

namespace FleetLight.OpenData.Tests.Gis;

/// <summary>A program that knows the standards and not FleetLight reads all that there is, and finds what the API says.</summary>
[Collection<OpenServices>]
public sealed class GdalTests : IDisposable
{
    private readonly OpenService service;
    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("fleetlight-gis-");

    public GdalTests(OpenService service)
    {
        this.service = service;
        Gdal.Need();
    }

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public void It_lists_every_collection()
    {
        string said = Info("-q");
        foreach (string collection in OpenService.Collections) Assert.Contains($": {collection} (", said, StringComparison.Ordinal);
    }

    [Fact]
    public async Task It_reads_every_feature_with_its_shape_and_values()
    {
        foreach (string collection in OpenService.Collections)
        {
            string file = Path.Combine(folder.FullName, $"{collection}.geojsonl");
            Gdal.Say("ogr2ogr", service.Api.Key, null, "-f", "GeoJSONSeq", file, $"OAPIF:{service.Root}", collection, "-lco", "COORDINATE_PRECISION=9");
            JsonNode[] read = [.. File.ReadLines(file).Select(line => JsonNode.Parse(line)!)];
            List<JsonNode> given = await service.AllAsync(collection);
            Assert.Equal(given.Count, read.Length);
            foreach ((JsonNode one, JsonNode other) in given.Zip(read))
            {
                Assert.Equal(Numbers(one["geometry"]), Numbers(other["geometry"]));
                Assert.Equal((string?)one["properties"]!["siteId"], (string?)other["properties"]!["siteId"]);
            }
        }
    }

    [Theory]
    [InlineData("GPKG", ".gpkg")]
    [InlineData("ESRI Shapefile", ".shp")]
    public async Task It_converts_every_collection(string form, string ending)
    {
        foreach (string collection in OpenService.Collections)
        {
            string file = Path.Combine(folder.FullName, collection + ending);
            // Attributes of a shapefile have names of ten letters at most; that they are cut is said as a warning.
            Gdal.Say("ogr2ogr", service.Api.Key, null, "-f", form, file, $"OAPIF:{service.Root}", collection);
            Assert.Equal((await service.AllAsync(collection)).Count, CountIn(Gdal.Say("ogrinfo", null, null, "-ro", "-so", "-al", file), collection));
        }
    }

    [Fact]
    public async Task It_finds_by_rectangle_and_by_value()
    {
        string[] box = ["10.0012", "51", "10.0020", "51.1"];
        Assert.Equal((await service.AllAsync("boxes", $"&bbox={string.Join(',', box)}")).Count, CountIn(Info(["-so", "-spat", .. box], "boxes"), "boxes"));
        Assert.Equal(1, CountIn(Info(["-so", "-where", "label = 'R7'"], "boxes"), "boxes"));
        Assert.Equal((await service.AllAsync("ducts", "&filter=lengthMetres%20%3E%2020")).Count, CountIn(Info(["-so", "-where", "lengthMetres > 20"], "ducts"), "ducts"));
    }

    [Fact]
    public async Task It_projects_to_the_same_places()
    {
        string file = Path.Combine(folder.FullName, "row.csv");
        Gdal.Say("ogr2ogr", service.Api.Key, null, "-f", "CSV", file, $"OAPIF:{service.Root}", "boxes",
            "-t_srs", "EPSG:25832", "-lco", "GEOMETRY=AS_XY", "-where", "siteId = 'yard'");
        Dictionary<string, (double X, double Y)> read = File.ReadLines(file).Skip(1).Select(line => line.Split(',')).Where(cells => cells[0].Length > 0)
            .ToDictionary(cells => cells[2].Trim('"'), cells => (Number(cells[0]), Number(cells[1])));
        List<JsonNode> given = [.. (await service.AllAsync("boxes", "&crs=http://www.opengis.net/def/crs/EPSG/0/25832")).Where(each => each["geometry"] is not null)];
        Assert.Equal(given.Count, read.Count);
        foreach (JsonNode each in given)
        {
            (double x, double y) = read[(string)each["id"]!];
            Assert.Equal(x, (double)each["geometry"]!["coordinates"]![0]!, 0.001);
            Assert.Equal(y, (double)each["geometry"]!["coordinates"]![1]!, 0.001);
        }
    }

    [Theory]
    [InlineData(3857)]
    [InlineData(32601)]
    [InlineData(32631)]
    [InlineData(32632)]
    [InlineData(32660)]
    [InlineData(32701)]
    [InlineData(32756)]
    [InlineData(25828)]
    [InlineData(25832)]
    [InlineData(25838)]
    public void Its_projections_agree_with_ours(int code)
    {
        CoordinateSystem system = CoordinateSystem.Find($"EPSG:{code}")!;
        double meridian = code == 3857 ? 0 : ((code % 100) * 6) - 183;
        (double X, double Y)[] places =
            [.. from east in (double[])[-9, -3, -0.5, 0, 1.7, 3, 12] from north in (double[])[-79, -33.9, 0, 12.3, 51, 83] select (meridian + east, north)];
        string input = string.Join('\n', places.Select(at => string.Create(CultureInfo.InvariantCulture, $"{at.X} {at.Y}")));
        string[] lines = Gdal.Say("gdaltransform", null, input, "-s_srs", "OGC:CRS84", "-t_srs", $"EPSG:{code}", "-output_xy").Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(places.Length, lines.Length);
        foreach (((double x, double y), string line) in places.Zip(lines))
        {
            double[] theirs = [.. line.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(Number)];
            (double X, double Y) ours = system.FromDegrees(x, y)!.Value;
            Assert.True(Math.Abs(theirs[0] - ours.X) < 0.001 && Math.Abs(theirs[1] - ours.Y) < 0.001, $"{x} {y}: {line} and {ours}");
        }
    }

    [Fact]
    public async Task It_reads_the_geopackage_that_is_served()
    {
        foreach (string query in (string[])["", "?site=far"])
        {
            string file = Path.Combine(folder.FullName, $"served{query.Length}.gpkg");
            await File.WriteAllBytesAsync(file, (await service.Api.GetAsync($"/ogc/geopackage{query}")).Expect(HttpStatusCode.OK).Body, TestContext.Current.CancellationToken);
            string said = Gdal.Say("ogrinfo", null, null, "-ro", "-so", "-al", file);
            Assert.DoesNotContain("Warning", said, StringComparison.Ordinal);
            foreach (string collection in OpenService.Collections)
            {
                int expected = (await service.AllAsync(collection)).Count(each => query.Length == 0 || (string?)each["properties"]!["siteId"] == "far");
                Assert.Equal(expected, CountIn(said, collection));
            }

            string ducts = Path.Combine(folder.FullName, $"ducts{query.Length}.geojsonl");
            Gdal.Say("ogr2ogr", null, null, "-f", "GeoJSONSeq", ducts, file, "ducts", "-lco", "COORDINATE_PRECISION=9");
            IEnumerable<JsonNode> given = (await service.AllAsync("ducts")).Where(each => query.Length == 0 || (string?)each["properties"]!["siteId"] == "far");
            Assert.Equal(
                given.Select(each => string.Join(' ', Numbers(each["geometry"]))),
                File.ReadLines(ducts).Select(line => string.Join(' ', Numbers(JsonNode.Parse(line)!["geometry"]))));
        }
    }

    [Fact]
    public async Task It_reads_the_tiles()
    {
        // The tile of zoom 14 about 10.002 E, 51.001 N, by the formula of the tile scheme.
        Answer tile = (await service.Api.GetAsync("/ogc/collections/boxes/tiles/WebMercatorQuad/14/5484/8647")).Expect(HttpStatusCode.OK);
        string file = Path.Combine(folder.FullName, "5484.mvt");
        await File.WriteAllBytesAsync(file, tile.Body, TestContext.Current.CancellationToken);
        string said = Gdal.Say("ogrinfo", null, null, "-ro", "-so", "-al", $"MVT:{file}");
        int within = CountIn(said, "boxes");
        int given = (await service.AllAsync("boxes", "&bbox=9.99,50.99,10.02,51.01")).Count;
        Assert.Equal(given, within);
        Assert.Equal("application/vnd.mapbox-vector-tile", tile.MediaType);
    }

    private string Info(params string[] arguments) => Gdal.Say("ogrinfo", service.Api.Key, null, ["-ro", .. arguments, $"OAPIF:{service.Root}"]);

    private string Info(string[] arguments, string layer) => Gdal.Say("ogrinfo", service.Api.Key, null, ["-ro", .. arguments, $"OAPIF:{service.Root}", layer]);

    private static int CountIn(string said, string layer)
    {
        Match found = Regex.Match(said, $@"Layer name: {layer}\b[\s\S]*?Feature Count: (\d+)");
        Assert.True(found.Success, said);
        return int.Parse(found.Groups[1].Value, CultureInfo.InvariantCulture);
    }

    private static List<double> Numbers(JsonNode? shape)
    {
        List<double> numbers = [];
        Take(shape?["coordinates"]);
        return numbers;

        void Take(JsonNode? node)
        {
            if (node is JsonArray array)
            {
                foreach (JsonNode? each in array) Take(each);
            }
            else if (node is not null)
            {
                numbers.Add(Math.Round((double)node, 8));
            }
        }
    }

    private static double Number(string text) => double.Parse(text.Trim('"'), NumberStyles.Float, CultureInfo.InvariantCulture);
}
