using System.Text.Json;
using FleetLight.Contracts.Wire;
using FleetLight.OpenData.Crs;
using FleetLight.OpenData.Features;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;
using Npgsql;

namespace FleetLight.Service.OpenData;

/// <summary>OGC API - Features over what is recorded: for programs that know nothing of FleetLight.</summary>
public static class OgcEndpoints
{
    private static readonly OgcConformance Conformance = new(
    [
        "http://www.opengis.net/spec/ogcapi-common-1/1.0/conf/core",
        "http://www.opengis.net/spec/ogcapi-common-2/1.0/conf/collections",
        "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/core",
        "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/html",
        "http://www.opengis.net/spec/ogcapi-features-1/1.0/conf/geojson",
        "http://www.opengis.net/spec/ogcapi-features-2/1.0/conf/crs",
        "http://www.opengis.net/spec/ogcapi-features-3/1.0/conf/queryables",
        "http://www.opengis.net/spec/ogcapi-features-3/1.0/conf/queryables-query-parameters",
        "http://www.opengis.net/spec/ogcapi-features-3/1.0/conf/filter",
        "http://www.opengis.net/spec/ogcapi-features-3/1.0/conf/features-filter",
        "http://www.opengis.net/spec/cql2/1.0/conf/cql2-text",
        "http://www.opengis.net/spec/cql2/1.0/conf/basic-cql2",
        "http://www.opengis.net/spec/cql2/1.0/conf/advanced-comparison-operators",
        "http://www.opengis.net/spec/cql2/1.0/conf/basic-spatial-functions",
        "http://www.opengis.net/spec/ogcapi-tiles-1/1.0/conf/core",
        "http://www.opengis.net/spec/ogcapi-tiles-1/1.0/conf/mvt",
    ]);

    /// <summary>Maps them.</summary>
    public static void MapOpenData(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup(OgcLinks.Path).WithTags("Open data").ReadableElsewhere(routes);
        group.MapGet("", Landing).Needs(Scope.ReadAsBuilt).TakesBasic().ProducesPage()
            .WithSummary("Open data: where all begins")
            .WithDescription("OGC API - Features, for GIS and other programs. A program that knows no Bearer may send the key as the password of HTTP Basic, under any name.")
            .Produces<OgcLanding>().ProducesProblems(400, 401, 403);
        group.MapGet("/conformance", Conform).Needs(Scope.ReadAsBuilt).TakesBasic().ProducesPage()
            .WithSummary("Open data: what it holds to").Produces<OgcConformance>().ProducesProblems(400, 401, 403);
        group.MapGet("/collections", CollectionsAsync).Needs(Scope.ReadAsBuilt).TakesBasic().ProducesPage()
            .WithSummary("Open data: the collections")
            .WithDescription("Those that the key may read: circuits, readings and alerts only with 'read-status' besides.")
            .Produces<OgcCollections>().ProducesProblems(400, 401, 403, 503);
        group.MapGet("/collections/{collection}", CollectionAsync).Needs(Scope.ReadAsBuilt).TakesBasic().ProducesPage()
            .WithSummary("Open data: a collection").Produces<OgcCollectionLine>().ProducesProblems(400, 401, 403, 404, 503);
        group.MapGet("/collections/{collection}/queryables", (string collection, HttpContext context, IConfiguration configuration, Caller caller, string? f = null) =>
                Schema(collection, context, configuration, caller, queryables: true))
            .Needs(Scope.ReadAsBuilt).TakesBasic()
            .WithSummary("Open data: what filters of a collection may name (JSON Schema)")
            .Produces<JsonElement>(200, OgcLinks.SchemaJson).ProducesProblems(400, 401, 403, 404);
        group.MapGet("/collections/{collection}/schema", (string collection, HttpContext context, IConfiguration configuration, Caller caller, string? f = null) =>
                Schema(collection, context, configuration, caller, queryables: false))
            .Needs(Scope.ReadAsBuilt).TakesBasic()
            .WithSummary("Open data: what the features of a collection hold (JSON Schema)")
            .Produces<JsonElement>(200, OgcLinks.SchemaJson).ProducesProblems(400, 401, 403, 404);
        group.MapGet("/collections/{collection}/items", ItemsAsync).Needs(Scope.ReadAsBuilt).TakesBasic().ProducesPage()
            .WithSummary("Open data: features of a collection")
            .WithDescription(
                "GeoJSON (RFC 7946), a page at a time; the links 'next' and 'prev' lead on and back. Units stand in the names of the properties. What has no "
                + "recorded position has a null geometry and is not found by 'bbox'. Any property may be a parameter of its own name, such as 'siteId=s1'. "
                + "'numberMatched' is absent where "
                + "counting would cost too much. A 'limit' beyond the most counts as the most.")
            .Produces<OgcFeatures>(200, OgcLinks.GeoJson).ProducesProblems(400, 401, 403, 404, 503);
        group.MapGet("/collections/{collection}/items/{feature}", ItemAsync).Needs(Scope.ReadAsBuilt).TakesBasic().ProducesPage()
            .WithSummary("Open data: one feature").Produces<OgcFeature>(200, OgcLinks.GeoJson).ProducesProblems(400, 401, 403, 404, 503);
        TileEndpoints.Map(group);
        GeoPackage.GeoPackageEndpoint.Map(group);
    }

    /// <summary>Whether the caller may read a collection.</summary>
    internal static bool MayRead(Caller caller, FeatureKind kind) => !kind.IsState || caller.May(Scope.ReadStatus);

    /// <summary>The collection that a path names; a problem where there is none, or the caller may not read it.</summary>
    internal static FeatureKind? Find(string collection, Caller caller, out Problem? problem)
    {
        var kind = FeatureKinds.Find(collection);
        problem = kind is null ? Problems.NotFound("collection", collection) : MayRead(caller, kind) ? null : Problems.ScopeMissing(Scope.ReadStatus);
        return problem is null ? kind : null;
    }

    /// <summary>A problem as an answer; where the store cannot answer now, it says when to come back.</summary>
    internal static IResult Refuse(HttpContext context, Problem problem)
    {
        if (problem.Status == StatusCodes.Status503ServiceUnavailable) context.Response.Headers.RetryAfter = "3";
        return Problems.Result(problem);
    }

    private static IResult Landing(HttpContext context, IConfiguration configuration, string? f = null)
    {
        if (ItemsRequest.Unknown(context.Request.Query, "f") is { } problem) return Problems.Result(problem);
        var links = OgcLinks.Of(context.Request, configuration);
        var landing = links.Landing();
        return OgcAnswer.Of(context, landing, OgcLinks.Json, () => OgcPages.Landing(links, landing));
    }

    private static IResult Conform(HttpContext context, IConfiguration configuration, string? f = null)
    {
        if (ItemsRequest.Unknown(context.Request.Query, "f") is { } problem) return Problems.Result(problem);
        return OgcAnswer.Of(context, Conformance, OgcLinks.Json, () => OgcPages.Conformance(OgcLinks.Of(context.Request, configuration), Conformance));
    }

    private static async Task<IResult> CollectionsAsync(
        HttpContext context, IConfiguration configuration, Caller caller, NpgsqlDataSource database, FeatureIndex index, CancellationToken cancel, string? f = null)
    {
        if (ItemsRequest.Unknown(context.Request.Query, "f") is { } unknown) return Problems.Result(unknown);
        if (await index.CatchUpAsync(caller.Organisation, cancel) is { } problem) return Refuse(context, problem);
        var links = OgcLinks.Of(context.Request, configuration);
        var all = new List<OgcCollectionLine>();
        foreach (var kind in FeatureKinds.All.Where(kind => MayRead(caller, kind))) all.Add(await DescribeAsync(links, kind, database, caller.Organisation, cancel));
        var collections = new OgcCollections([.. links.Both("/collections", "The collections")], all);
        return OgcAnswer.Of(context, collections, OgcLinks.Json, () => OgcPages.Collections(links, collections));
    }

    private static async Task<IResult> CollectionAsync(
        string collection, HttpContext context, IConfiguration configuration, Caller caller, NpgsqlDataSource database, FeatureIndex index, CancellationToken cancel,
        string? f = null)
    {
        if (Find(collection, caller, out var problem) is not { } kind) return Problems.Result(problem!);
        if (ItemsRequest.Unknown(context.Request.Query, "f") is { } unknown) return Problems.Result(unknown);
        if (await index.CatchUpAsync(caller.Organisation, cancel) is { } later) return Refuse(context, later);
        var links = OgcLinks.Of(context.Request, configuration);
        var described = await DescribeAsync(links, kind, database, caller.Organisation, cancel);
        return OgcAnswer.Of(context, described, OgcLinks.Json, () => OgcPages.Collection(links, kind, described));
    }

    private static async Task<OgcCollectionLine> DescribeAsync(OgcLinks links, FeatureKind kind, NpgsqlDataSource database, string organisation, CancellationToken cancel)
    {
        var (where, first, last) = await new IndexedFeatures(database, organisation).ReachAsync(kind, cancel);
        var space = where is null ? null : new OgcSpace([[where.MinX, where.MinY, where.MaxX, where.MaxY]], CoordinateSystem.Crs84.Uri);
        var time = first is null || last is null ? null : new OgcTime([[first, last]], "http://www.opengis.net/def/uom/ISO-8601/0/Gregorian");
        return new OgcCollectionLine(
            kind.Id, kind.Title, kind.Says, links.OfCollection(kind), space is null && time is null ? null : new OgcReach(space, time), "feature",
            [.. CoordinateSystem.All.Select(system => system.Uri)], CoordinateSystem.Crs84.Uri);
    }

    private static IResult Schema(string collection, HttpContext context, IConfiguration configuration, Caller caller, bool queryables)
    {
        if (Find(collection, caller, out var problem) is not { } kind) return Problems.Result(problem!);
        if (ItemsRequest.Unknown(context.Request.Query, "f") is { } unknown) return Problems.Result(unknown);
        if (context.Request.Query["f"].ToString() is not ("" or "json")) return Problems.Result(Problems.Parameter("f", "There is no such form here.", "Use json."));
        context.Response.Headers.CacheControl = "no-store";
        var address = $"{OgcLinks.Of(context.Request, configuration).Root}/collections/{kind.Id}/{(queryables ? "queryables" : "schema")}";
        return Answers.Json(FeatureSchema.Of(kind, address, queryables), mediaType: OgcLinks.SchemaJson);
    }

    private static async Task<IResult> ItemsAsync(
        string collection, HttpContext context, IConfiguration configuration, Caller caller, NpgsqlDataSource database, FeatureIndex index, FeatureCounts counts,
        TimeProvider clock, CancellationToken cancel, string? f = null, string? bbox = null, [FromQuery(Name = "bbox-crs")] string? bboxCrs = null, string? datetime = null,
        string? filter = null, [FromQuery(Name = "filter-lang")] string? filterLang = null, [FromQuery(Name = "filter-crs")] string? filterCrs = null,
        string? crs = null, string? cursor = null, int? limit = null)
    {
        if (Find(collection, caller, out var problem) is not { } kind) return Problems.Result(problem!);
        if (ItemsRequest.Read(kind, context.Request.Query, out problem) is not { } request) return Problems.Result(problem!);
        if (!OgcAnswer.TryPage(context.Request, out var wantsPage, out problem)) return Problems.Result(problem!);
        if (await index.CatchUpAsync(caller.Organisation, cancel) is { } later) return Refuse(context, later);
        var source = FeaturePages.SourceOf(kind, database, caller.Organisation);
        var page = await FeaturePages.ReadAsync(source, request.Question, request.Place, request.Limit, cancel);
        page = page with
        {
            Matched = page is { Next: null, Previous: null }
                ? page.Rows.Count
                : await counts.OfAsync(
                    caller.Organisation, request.Selection, counting => FeaturePages.CountAsync(source, request.Question, request.Place.IsFirst, counting), cancel),
        };
        var links = OgcLinks.Of(context.Request, configuration);
        var (self, next, previous) = (Address(null, null), AddressOf(page.Next), AddressOf(page.Previous));
        var type = wantsPage ? OgcLinks.Html : OgcLinks.GeoJson;
        context.Response.Headers["Content-Crs"] = $"<{request.System.Uri}>";
        if (previous is not null) context.Response.Headers.Append(HeaderNames.Link, $"<{previous}>; rel=\"prev\"; type=\"{type}\"");
        if (next is not null) context.Response.Headers.Append(HeaderNames.Link, $"<{next}>; rel=\"next\"; type=\"{type}\"");
        var answer = new OgcFeatures(
            "FeatureCollection", [.. page.Rows.Select(row => Feature(kind, row, request.System))],
            [
                new(self, "self", type, kind.Title),
                new(Address("f", wantsPage ? "json" : "html"), "alternate", wantsPage ? OgcLinks.GeoJson : OgcLinks.Html, "The same in another form"),
                new($"{links.Root}/collections/{kind.Id}", "collection", OgcLinks.Json, kind.Title),
                .. previous is null ? [] : (OgcLink[])[new(previous, "prev", type, "The page before")],
                .. next is null ? [] : (OgcLink[])[new(next, "next", type, "The next page")],
            ],
            clock.GetUtcNow(), page.Matched, page.Rows.Count);
        return OgcAnswer.Of(context, answer, OgcLinks.GeoJson, () => OgcPages.Items(links, kind, page, Address("f", "json"), previous, next));

        string? AddressOf(PagePlace? place) => place is null ? null : Address("cursor", Paging.Encode(place.ToString()));

        // The same request with one parameter set otherwise.
        string Address(string? name, string? value)
        {
            var query = context.Request.Query.Where(pair => pair.Key != name)
                .SelectMany(pair => pair.Value, (pair, each) => KeyValuePair.Create(pair.Key, each));
            if (name is not null) query = query.Append(KeyValuePair.Create<string, string?>(name, value));
            return $"{links.Root}/collections/{kind.Id}/items{QueryString.Create(query)}";
        }
    }

    private static async Task<IResult> ItemAsync(
        string collection, string feature, HttpContext context, IConfiguration configuration, Caller caller, NpgsqlDataSource database, FeatureIndex index,
        CancellationToken cancel, string? f = null, string? crs = null)
    {
        if (Find(collection, caller, out var problem) is not { } kind) return Problems.Result(problem!);
        if ((problem = ItemsRequest.Unknown(context.Request.Query, "f", "crs")) is not null
            || !ItemsRequest.TrySystem(context.Request.Query, "crs", out var system, out problem))
            return Problems.Result(problem!);
        if (await index.CatchUpAsync(caller.Organisation, cancel) is { } later) return Refuse(context, later);
        if (await FeaturePages.SourceOf(kind, database, caller.Organisation).FindAsync(kind, feature, cancel) is not { } row)
            return Problems.Result(Problems.NotFound("feature", feature));
        var links = OgcLinks.Of(context.Request, configuration);
        context.Response.Headers["Content-Crs"] = $"<{system.Uri}>";
        var path = $"/collections/{kind.Id}/items/{Uri.EscapeDataString(row.Id)}";
        var answer = Feature(kind, row, system) with
        {
            Links = [.. links.Both(path, row.Id, OgcLinks.GeoJson), new($"{links.Root}/collections/{kind.Id}", "collection", OgcLinks.Json, kind.Title)],
        };
        return OgcAnswer.Of(context, answer, OgcLinks.GeoJson, () => OgcPages.Item(links, kind, row));
    }

    private static OgcFeature Feature(FeatureKind kind, FeatureRow row, CoordinateSystem system)
    {
        var shape = row.Shape is { } known ? system.FromDegrees(known) : null;
        return new OgcFeature(
            "Feature", row.Id, shape is null ? null : JsonElement.Parse(FeatureJson.ShapeOf(shape)), JsonElement.Parse(FeatureJson.PropertiesOf(kind, row)));
    }
}
