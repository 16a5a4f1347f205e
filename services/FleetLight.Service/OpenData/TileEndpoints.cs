using System.Globalization;
using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FleetLight.OpenData.Tiles;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>The features as vector tiles, in the order of OGC API - Tiles: zoom, row, column.</summary>
internal static class TileEndpoints
{
    // Features of one tile; beyond, it shows sites.
    private const int Most = 10_000;

    public static void Map(RouteGroupBuilder group)
    {
        group.MapGet("/collections/{collection}/tiles", TileSets).Needs(Scope.ReadAsBuilt).TakesBasic()
            .WithSummary("Open data: the tiles of a collection").Produces<OgcTileSets>().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/collections/{collection}/tiles/WebMercatorQuad", TileSet).Needs(Scope.ReadAsBuilt).TakesBasic()
            .WithSummary("Open data: about the tiles of a collection").Produces<OgcTileSet>().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/collections/{collection}/tiles/WebMercatorQuad/{z}/{y}/{x}", TileAsync).Needs(Scope.ReadAsBuilt).TakesBasic()
            .WithSummary("Open data: a vector tile")
            .WithDescription(
                $"Mapbox Vector Tile. From zoom {FeatureTile.LeastZoomOfFeatures} on it holds the features with their properties, lines simplified to half a unit of the tile; "
                + $"below, and where there are more than {Most}, one point a site with how many features it has ('siteId', 'features').")
            .Produces<byte[]>(200, OgcLinks.Tile).ProducesProblems(400, 401, 403, 404, 503);
    }

    private static IResult TileSets(string collection, HttpContext context, IConfiguration configuration, Caller caller)
    {
        if (Find(collection, caller, out var problem) is not { } kind) return Problems.Result(problem!);
        var links = OgcLinks.Of(context.Request, configuration);
        return Answers.Json(new OgcTileSets([links.TileSet(kind)], [new($"{links.Root}/collections/{kind.Id}/tiles", "self", OgcLinks.Json, "Tiles")]));
    }

    private static IResult TileSet(string collection, HttpContext context, IConfiguration configuration, Caller caller) =>
        Find(collection, caller, out var problem) is { } kind
            ? Answers.Json(OgcLinks.Of(context.Request, configuration).TileSet(kind))
            : Problems.Result(problem!);

    private static async Task<IResult> TileAsync(
        string collection, string z, string y, string x, HttpContext context, Caller caller, NpgsqlDataSource database, FeatureIndex index, CancellationToken cancel)
    {
        if (Find(collection, caller, out var problem) is not { } kind) return Problems.Result(problem!);
        if (FeatureTile.Find(Number(z), Number(y), Number(x)) is not { } tile) return Problems.Result(Problems.NotFound("tile", $"{z}/{y}/{x}"));
        if (await index.CatchUpAsync(caller.Organisation, cancel) is { } later) return OgcEndpoints.Refuse(context, later);
        var features = new IndexedFeatures(database, caller.Organisation);
        var box = new CqlIntersects(new CqlShapeProperty(FeatureKind.ShapeName, default), new CqlGeometry(tile.Area, default), default);
        IReadOnlyList<Keyed> found = tile.ShowsFeatures ? await features.AfterAsync(new FeatureQuestion(kind, box), "", Most + 1, cancel) : [];
        var bytes = tile.ShowsFeatures && found.Count <= Most
            ? tile.Of(kind, found.Select(each => each.Row!))
            : tile.OfSites(kind, await features.SitesAsync(kind, tile.Area.EnvelopeInternal, cancel));
        context.Response.Headers.CacheControl = "no-store";
        return Results.Bytes(bytes, OgcLinks.Tile);
    }

    // Readings lie on top of one another at the places of the other collections.
    private static FeatureKind? Find(string collection, Caller caller, out Contracts.Wire.Problem? problem)
    {
        var kind = OgcEndpoints.Find(collection, caller, out problem);
        if (kind != FeatureKinds.Readings || problem is not null) return kind;
        problem = Problems.NotFound("set of tiles", collection);
        return null;
    }

    private static int Number(string text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : -1;
}
