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
            .WithSummary("The state of a site")
            .WithDescription("'asOf' gives the state as it was at that time, and 'knownBy' counts only what was known by then (RFC 3339).")
            .Produces<SiteView>().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/sites/{id}/as-built", AsBuiltAsync).Needs(Scope.ReadAsBuilt)
            .WithSummary("What is in the ground, as GeoJSON")
            .WithDescription(
                "A FeatureCollection (RFC 7946, WGS 84): ducts as lines, boxes, drivers and fittings as points, cables without a geometry of "
                + "their own. A thing whose position nobody recorded has a null geometry. Units stand in the names of the properties. Every feature "
                + "has 'kind' and 'id'; a duct its colour as seen, the cables in it, its fill and the thickest cable that still goes in; a box whether "
                + "it is sealed; drivers and fittings their circuit with its phase and verdict (advice, never a certificate). What was measured with a stated "
                + "accuracy has 'accuracyMetres' (with 95 % the true place is no further off), 'method', 'errorEllipse' (95 %) and 'placement', with tapes "
                + "and by which distances it is found; reference points and measured points of ducts and cables are features of their own. 'asOf' gives what was "
                + "built by that time, and 'knownBy' counts only what was known by then (RFC 3339).")
            .Produces<FeatureSet>(200, "application/geo+json").ProducesProblems(400, 401, 403, 404, 503);
        FleetEndpoints.Map(group);
        group.MapGet("/fleet", FleetAsync).Needs(Scope.ReadStatus)
            .WithSummary("The whole fleet in numbers").Produces<FleetView>().ProducesProblems(401, 403);
    }

    private static async Task<IResult> ListAsync(Caller caller, NpgsqlDataSource database, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        var found = await new StateRows(database, caller.Organisation).ListAsync<SiteView>(StateKinds.Site, page.After, page.Limit + 1, cancel);
        return Paging.ByKey(found, page, site => site.Id);
    }

    private static async Task<IResult> GetAsync(
        string id, Caller caller, NpgsqlDataSource database, CircuitHistory history, CancellationToken cancel,
        string? asOf = null, string? knownBy = null)
    {
        if (!Query.TryTime(asOf, "asOf", out var at, out var problem) || !Query.TryTime(knownBy, "knownBy", out var known, out problem))
            return Problems.Result(problem!);
        var site = at is null && known is null
            ? await new StateRows(database, caller.Organisation).FindAsync<SiteView>(StateKinds.Site, id, cancel)
            : await (await history.OpenAsync(caller.Organisation, at, known, cancel)).UntilWholeAsync(works => works.SiteOf(id), cancel);
        return site is not null ? Answers.Json(site) : Problems.Result(Problems.NotFound("site", id));
    }

    private static async Task<IResult> AsBuiltAsync(
        string id, Caller caller, NpgsqlDataSource database, SitePast past, CancellationToken cancel, string? asOf = null, string? knownBy = null)
    {
        if (!Query.TryTime(asOf, "asOf", out var at, out var problem) || !Query.TryTime(knownBy, "knownBy", out var known, out problem))
            return Problems.Result(problem!);
        SiteThings? things;
        if (at is null && known is null) things = await SiteThings.NowAsync(database, caller.Organisation, id, cancel);
        else if ((things = await past.AsOfAsync(caller.Organisation, id, at, known, cancel)) is null) return Problems.Result(Problems.ListsNotWhole());
        return things.IsNothing ? Problems.Result(Problems.NotFound("site", id)) : Answers.Json(AsBuilt.Of(things), mediaType: "application/geo+json");
    }

    private static async Task<IResult> FleetAsync(Caller caller, FleetQueries fleet, CancellationToken cancel) =>
        Answers.Json(await fleet.ReadAsync(caller.Organisation, cancel));
}
