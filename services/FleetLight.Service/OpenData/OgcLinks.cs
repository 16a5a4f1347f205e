using FleetLight.OpenData.Crs;
using FleetLight.OpenData.Features;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.OpenData;

/// <summary>Addresses of the open data, as seen from outside.</summary>
/// <param name="Root">The address of the landing page.</param>
public sealed record OgcLinks(string Root)
{
    /// <summary>Media type of JSON.</summary>
    public const string Json = "application/json";

    /// <summary>Media type of GeoJSON.</summary>
    public const string GeoJson = "application/geo+json";

    /// <summary>Media type of JSON Schema.</summary>
    public const string SchemaJson = "application/schema+json";

    /// <summary>Media type of pages.</summary>
    public const string Html = "text/html";

    /// <summary>Media type of vector tiles.</summary>
    public const string Tile = "application/vnd.mapbox-vector-tile";

    /// <summary>Media type of a GeoPackage.</summary>
    public const string GeoPackage = "application/geopackage+sqlite3";

    /// <summary>Path of the landing page.</summary>
    public const string Path = "/ogc";

    private const string Relation = "http://www.opengis.net/def/rel/ogc/1.0/";

    /// <summary>Those of a request.</summary>
    public static OgcLinks Of(HttpRequest request, IConfiguration configuration) => new(PublicAddress.Of(request, configuration) + Path);

    /// <summary>The landing page.</summary>
    public OgcLanding Landing() => new(
        "FleetLight open data",
        "What is recorded of your organisation's buried outdoor lighting, for any program that reads OGC API - Features. Locate buried services before the "
        + "ground is opened: nothing here says that nothing is there.",
        [
            .. Both("", "this landing page"),
            new(ServiceRoot + "/openapi/v1.json", "service-desc", "application/vnd.oai.openapi+json;version=3.1", "The API"),
            new(ServiceRoot + "/docs", "service-doc", Html, "The API, to read"),
            new($"{Root}/conformance", "conformance", Json, "What it holds to"),
            new($"{Root}/collections", "data", Json, "The collections"),
            new($"{Root}/geopackage", "enclosure", GeoPackage, "Everything as one GeoPackage"),
        ]);

    /// <summary>A collection, as far as its links go.</summary>
    public IReadOnlyList<OgcLink> OfCollection(FeatureKind kind)
    {
        var path = $"/collections/{kind.Id}";
        return
        [
            .. Both(path, kind.Title),
            new($"{Root}{path}/items", "items", GeoJson, kind.Title),
            new($"{Root}{path}/items?f=html", "items", Html, $"{kind.Title}, to read"),
            new($"{Root}{path}/queryables", Relation + "queryables", SchemaJson, "What filters may name"),
            new($"{Root}{path}/schema", Relation + "schema", SchemaJson, "What its features hold"),
            .. kind == FeatureKinds.Readings ? [] : (OgcLink[])[new($"{Root}{path}/tiles", Relation + "tilesets-vector", Json, "As vector tiles")],
        ];
    }

    /// <summary>This page as JSON and as HTML.</summary>
    public IReadOnlyList<OgcLink> Both(string path, string title, string json = Json) =>
        [new($"{Root}{path}", "self", json, title), new($"{Root}{path}?f=html", "alternate", Html, $"{title}, to read")];

    /// <summary>The set of tiles of a collection.</summary>
    public OgcTileSet TileSet(FeatureKind kind)
    {
        var path = $"{Root}/collections/{kind.Id}/tiles/WebMercatorQuad";
        return new OgcTileSet(
            kind.Title, "vector", CoordinateSystem.Find("EPSG:3857")!.Uri, "http://www.opengis.net/def/tilematrixset/OGC/1.0/WebMercatorQuad",
            [
                new(path, "self", Json, "About these tiles"),
                new(path + "/{tileMatrix}/{tileRow}/{tileCol}", "item", Tile, "Tiles", true),
                new("http://www.opengis.net/def/tilematrixset/OGC/1.0/WebMercatorQuad", Relation + "tiling-scheme", Json, "How they are cut"),
            ]);
    }

    private string ServiceRoot => Root[..^Path.Length];
}
