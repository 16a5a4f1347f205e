using FleetLight.OpenData.Features;
using FleetLight.OpenData.Html;
using FleetLight.OpenData.Tiles;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.VectorTiles;
using NetTopologySuite.IO.VectorTiles.Mapbox;
using Xunit;

namespace FleetLight.OpenData.Tests.Features;

public sealed class PageAndTileTests
{
    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\" onmouseover=\"x")]
    [InlineData("&lt;")]
    public void Whatever_is_shown_is_text(string hostile)
    {
        string page = OpenDataPage.Of(hostile, [("/ogc", hostile)], "/ogc?f=json",
            OpenDataPage.Paragraph(hostile), OpenDataPage.Table([hostile], [[Markup.Text(hostile), Markup.Link("/ogc/" + hostile, hostile)]]));
        Assert.DoesNotContain("<script", page, StringComparison.Ordinal);
        Assert.DoesNotContain("\" onmouseover", page, StringComparison.Ordinal);
        Assert.Contains(System.Net.WebUtility.HtmlEncode(hostile), page, StringComparison.Ordinal);
    }

    [Fact]
    public void Only_addresses_of_the_web_are_linked() => Assert.Equal("javascript:alert(1)", Markup.Link("javascript:alert(1)", "javascript:alert(1)").ToString());

    [Fact]
    public void A_tile_holds_features_where_they_are()
    {
        // Column and row of 10 E, 51 N at zoom 14, by the formula of the tile scheme.
        FeatureTile tile = FeatureTile.Find(14, 5484, 8647)!;
        Assert.True(tile.Area.Intersects(new Point(10.001, 51.001)), tile.Area.ToString());
        FeatureRow duct = new("d1", new LineString([new(10.001, 51.001), new(10.0015, 51.0011), new(10.002, 51.0012), new(12, 51.2)]),
            [.. FeatureKinds.Ducts.Properties.Select(property => property.Name == "lengthMetres" ? (object?)24.5 : property.Kind == ValueKind.Text ? property.Name : null)]);

        VectorTile read = new MapboxTileReader().Read(
            new MemoryStream(tile.Of(FeatureKinds.Ducts, [duct, duct with { Id = "d2", Shape = null }])),
            new NetTopologySuite.IO.VectorTiles.Tiles.Tile(8647, 5484, 14));

        Layer layer = Assert.Single(read.Layers);
        Assert.Equal("ducts", layer.Name);
        NetTopologySuite.Features.IFeature feature = Assert.Single(layer.Features);
        Assert.Equal("d1", feature.Attributes["fid"]);
        Assert.Equal(24.5, feature.Attributes["lengthMetres"]);
        // A unit of this tile is 0.6 m wide, about 0.00001 of a degree.
        Assert.Equal(10.001, feature.Geometry.Coordinate.X, 1e-5);
        Assert.Equal(51.001, feature.Geometry.Coordinate.Y, 1e-5);
        // Cut at its edge.
        Assert.True(feature.Geometry.EnvelopeInternal.MaxX < tile.Area.EnvelopeInternal.MaxX + 1e-4);
    }

    [Fact]
    public void Far_out_a_tile_holds_sites()
    {
        FeatureTile tile = FeatureTile.Find(0, 0, 0)!;
        Assert.False(tile.ShowsFeatures);
        VectorTile read = new MapboxTileReader().Read(new MemoryStream(tile.OfSites(FeatureKinds.Ducts, [("s1", new(10, 51), 7)])),
            new NetTopologySuite.IO.VectorTiles.Tiles.Tile(0, 0, 0));
        Assert.Equal("s1", Assert.Single(Assert.Single(read.Layers).Features).Attributes["siteId"]);
    }

    [Theory]
    [InlineData(-1, 0, 0)]
    [InlineData(25, 0, 0)]
    [InlineData(1, 2, 0)]
    [InlineData(1, 0, -1)]
    public void There_are_no_other_tiles(int zoom, int row, int column) => Assert.Null(FeatureTile.Find(zoom, row, column));
}
