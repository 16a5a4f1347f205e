using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Crs;
using FleetLight.OpenData.Features;
using NetTopologySuite.Features;
using NetTopologySuite.Geometries;
using NetTopologySuite.IO.VectorTiles;
using NetTopologySuite.IO.VectorTiles.Mapbox;
using NetTopologySuite.Simplify;

namespace FleetLight.OpenData.Tiles;

/// <summary>A square of the quadtree of web maps (WebMercatorQuad), and what is drawn in it.</summary>
public sealed class FeatureTile
{
    /// <summary>From this zoom on a tile holds features (a unit of it is then about 2 m); below it, one point a site.</summary>
    public const int LeastZoomOfFeatures = 12;

    /// <summary>The greatest zoom.</summary>
    public const int MostZoom = 24;

    private const int Units = 4096;

    // What is drawn beyond its edges, so that lines and symbols meet those of the next tile.
    private const double Margin = 64;

    private readonly int zoom;
    private readonly int row;
    private readonly int column;
    private readonly double unitDegrees;

    private FeatureTile(int zoom, int row, int column)
    {
        (this.zoom, this.row, this.column) = (zoom, row, column);
        var side = 2 * WebMercator.HalfMetres / Math.Pow(2, zoom);
        var margin = side * Margin / Units;
        var (left, top) = ((column * side) - WebMercator.HalfMetres - margin, WebMercator.HalfMetres - (row * side) + margin);
        var (west, north) = WebMercator.Backward(left, top);
        var (east, south) = WebMercator.Backward(left + side + (2 * margin), top - side - (2 * margin));
        Area = CqlShapes.Factory.ToGeometry(new Envelope(west, east, south, north));
        unitDegrees = (east - west) / (Units + (2 * Margin));
    }

    /// <summary>What it reaches with its margin, in longitude and latitude.</summary>
    public Geometry Area { get; }

    /// <summary>Whether it holds features; else it holds sites.</summary>
    public bool ShowsFeatures => zoom >= LeastZoomOfFeatures;

    /// <summary>A tile; none where there is none of that zoom, row and column.</summary>
    public static FeatureTile? Find(int zoom, int row, int column) =>
        zoom is < 0 or > MostZoom || row < 0 || column < 0 || row >= 1 << zoom || column >= 1 << zoom ? null : new FeatureTile(zoom, row, column);

    /// <summary>The tile with features: cut to what it reaches, and simplified to half a unit of it.</summary>
    public byte[] Of(FeatureKind kind, IEnumerable<FeatureRow> rows)
    {
        var layer = new Layer { Name = kind.Id };
        foreach (var row in rows)
        {
            if (row.Shape is not { } shape || Cut(shape) is not { IsEmpty: false } drawn) continue;
            var attributes = new AttributesTable { { "fid", row.Id } };
            for (var i = 0; i < kind.Properties.Count; i++)
            {
                if (Plain(row.Values[i]) is { } value) attributes.Add(kind.Properties[i].Name, value);
            }

            layer.Features.Add(new Feature(drawn, attributes));
        }

        return Written(layer);
    }

    /// <summary>The tile with one point a site.</summary>
    public byte[] OfSites(FeatureKind kind, IEnumerable<(string SiteId, Coordinate Middle, long Count)> sites)
    {
        var layer = new Layer { Name = kind.Id };
        foreach (var (siteId, middle, count) in sites)
            layer.Features.Add(new Feature(CqlShapes.Factory.CreatePoint(middle), new AttributesTable { { "siteId", siteId }, { "features", count } }));
        return Written(layer);
    }

    private Geometry Cut(Geometry shape)
    {
        if (shape is Point or MultiPoint) return shape is Point ? shape : shape.Intersection(Area);
        var simple = DouglasPeuckerSimplifier.Simplify(shape, unitDegrees / 2);
        return Area.EnvelopeInternal.Contains(simple.EnvelopeInternal) ? simple : simple.Intersection(Area);
    }

    private byte[] Written(Layer layer)
    {
        var tile = new VectorTile { TileId = new NetTopologySuite.IO.VectorTiles.Tiles.Tile(column, row, zoom).Id };
        if (layer.Features.Count > 0) tile.Layers.Add(layer);
        using var written = new MemoryStream();
        tile.Write(written, minLinealExtent: 0, minPolygonalExtent: 0, extent: Units);
        return written.ToArray();
    }

    private static object? Plain(object? value) => value is DateTimeOffset time ? CqlTimes.Text(time) : value;
}
