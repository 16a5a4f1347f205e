using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Marten;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>Sites: the list, one, its as-built data, and the fleet as a whole.</summary>
public static class SiteEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapSites(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1").WithTags("Sites");
        group.MapGet("/sites", ListAsync).Needs(Scope.ReadStatus)
            .WithSummary("Sites").WithDescription("In the order of their ids. The Link header names the next page.")
            .Produces<Page<SiteView>>().ProducesProblems(400, 401, 403);
        group.MapGet("/sites/{id}", GetAsync).Needs(Scope.ReadStatus)
            .WithSummary("The state of a site").Produces<SiteView>().ProducesProblems(401, 403, 404);
        group.MapGet("/sites/{id}/as-built", AsBuiltAsync).Needs(Scope.ReadAsBuilt)
            .WithSummary("What is in the ground, as GeoJSON")
            .WithDescription(
                "A FeatureCollection (RFC 7946, WGS 84): ducts as lines, boxes, drivers and fittings as points, cables without a geometry of "
                + "their own. A thing whose position nobody recorded has a null geometry. Units stand in the names of the properties.")
            .Produces<FeatureSet>(200, "application/geo+json").ProducesProblems(401, 403, 404);
        group.MapGet("/fleet", FleetAsync).Needs(Scope.ReadStatus)
            .WithSummary("The whole fleet in numbers").Produces<FleetView>().ProducesProblems(401, 403);
    }

    private static async Task<IResult> ListAsync(Caller caller, IDocumentStore store, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        await using var session = store.QuerySession(caller.Organisation);
        var found = await session.Query<SiteDocument>().Where(site => site.Id.CompareTo(page.After) > 0)
            .OrderBy(site => site.Id).Take(page.Limit + 1).Select(site => site.View).ToListAsync(cancel);
        return Paging.ByKey(found, page, site => site.Id);
    }

    private static async Task<IResult> GetAsync(string id, Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        return await session.LoadAsync<SiteDocument>(id, cancel) is { } site ? Answers.Json(site.View) : Problems.Result(Problems.NotFound("site", id));
    }

    private static async Task<IResult> AsBuiltAsync(string id, Caller caller, IDocumentStore store, NpgsqlDataSource database, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        var ducts = await session.Query<DuctDocument>().Where(duct => duct.SiteId == id).OrderBy(duct => duct.Id).ToListAsync(cancel);
        var cables = await session.Query<CableDocument>().Where(cable => cable.SiteId == id).OrderBy(cable => cable.Id).ToListAsync(cancel);
        var boxes = await session.Query<BoxDocument>().Where(box => box.SiteId == id).OrderBy(box => box.Id).ToListAsync(cancel);
        var circuits = await CircuitRows.ListAsync(database, caller.Organisation, "", int.MaxValue, cancel, site: id);
        var bases = await session.Query<BasisDocument>().Where(basis => basis.SiteId == id).ToListAsync(cancel);
        var site = await session.LoadAsync<SiteDocument>(id, cancel);
        if (site is null && ducts.Count + cables.Count + boxes.Count + circuits.Count == 0)
            return Problems.Result(Problems.NotFound("site", id));
        var collection = AsBuilt.Of(
            site?.View, [.. ducts.Select(each => each.View)], [.. cables.Select(each => each.View)], [.. boxes.Select(each => each.View)], circuits,
            bases.ToDictionary(basis => basis.Id, basis => basis.Basis, StringComparer.Ordinal));
        return Answers.Json(collection, mediaType: "application/geo+json");
    }

    private static async Task<IResult> FleetAsync(Caller caller, FleetQueries fleet, CancellationToken cancel) =>
        Answers.Json(await fleet.ReadAsync(caller.Organisation, cancel));
}
