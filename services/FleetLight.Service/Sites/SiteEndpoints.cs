using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;
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

    private static async Task<IResult> ListAsync(Caller caller, NpgsqlDataSource database, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        var found = await new StateRows(database, caller.Organisation).ListAsync<SiteView>(StateKinds.Site, page.After, page.Limit + 1, cancel);
        return Paging.ByKey(found, page, site => site.Id);
    }

    private static async Task<IResult> GetAsync(string id, Caller caller, NpgsqlDataSource database, CancellationToken cancel) =>
        await new StateRows(database, caller.Organisation).FindAsync<SiteView>(StateKinds.Site, id, cancel) is { } site
            ? Answers.Json(site)
            : Problems.Result(Problems.NotFound("site", id));

    private static async Task<IResult> AsBuiltAsync(string id, Caller caller, NpgsqlDataSource database, CancellationToken cancel)
    {
        var states = new StateRows(database, caller.Organisation);
        var ducts = await states.OfSiteAsync<DuctView>(StateKinds.Duct, id, cancel);
        var cables = await states.OfSiteAsync<CableView>(StateKinds.Cable, id, cancel);
        var boxes = await states.OfSiteAsync<BoxView>(StateKinds.Box, id, cancel);
        var bases = await states.OfSiteAsync<StampedBasis>(StateKinds.Basis, id, cancel);
        var circuits = await CircuitRows.ListAsync(database, caller.Organisation, "", int.MaxValue, cancel, site: id);
        var site = await states.FindAsync<SiteView>(StateKinds.Site, id, cancel);
        if (site is null && ducts.Count + cables.Count + boxes.Count + circuits.Count == 0)
            return Problems.Result(Problems.NotFound("site", id));
        var collection = AsBuilt.Of(site, ducts, cables, boxes, circuits, bases.ToDictionary(basis => basis.Basis.Id, basis => basis.Basis, StringComparer.Ordinal));
        return Answers.Json(collection, mediaType: "application/geo+json");
    }

    private static async Task<IResult> FleetAsync(Caller caller, FleetQueries fleet, CancellationToken cancel) =>
        Answers.Json(await fleet.ReadAsync(caller.Organisation, cancel));
}
