using System.Diagnostics;
using FleetLight.Contracts.Views;
using FleetLight.OpenData.Features;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.MadeFiles;
using FleetLight.Service.Works;
using Microsoft.Net.Http.Headers;
using Npgsql;

namespace FleetLight.Service.OpenData.GeoPackage;

/// <summary>Everything as one file.</summary>
internal static class GeoPackageEndpoint
{
    /// <summary>Its path behind that of the landing page.</summary>
    public const string Path = "/geopackage";

    public static void Map(RouteGroupBuilder group) => group.MapGet(Path, GetAsync).Needs(Scope.ReadAsBuilt).TakesBasic()
        .WithSummary("Open data: everything as one GeoPackage")
        .WithDescription(
            "All collections that the key may read as one GeoPackage (OGC 12-128r18), or those of one site. 'Repr-Digest' has its SHA-256 (RFC 9530). An interrupted "
            + "download goes on with 'Range' and 'If-Range'. Where the file is still being made the answer is 503 with Retry-After; ask the same again.")
        .Produces<byte[]>(200, OgcLinks.GeoPackage).Produces<byte[]>(206, OgcLinks.GeoPackage).Produces(304).ProducesProblems(400, 401, 403, 404, 503);

    private static async Task<IResult> GetAsync(
        HttpContext context, Caller caller, NpgsqlDataSource database, FeatureIndex index, GeoPackageMaker maker, MadeFileDesk<GeoPackageOf> desk,
        CancellationToken cancel, string? site = null)
    {
        var began = Stopwatch.GetTimestamp();
        if (ItemsRequest.Unknown(context.Request.Query, "site") is { } unknown) return Problems.Result(unknown);
        if (await index.CatchUpAsync(caller.Organisation, cancel) is { } later) return OgcEndpoints.Refuse(context, later);
        if (site is not null && !await IsKnownAsync(database, caller.Organisation, site, cancel)) return Problems.Result(Problems.NotFound("site", site));
        var wanted = await maker.NowAsync(caller.Organisation, site, FeatureKinds.All.All(kind => OgcEndpoints.MayRead(caller, kind)), cancel);
        // What came before counts too. A part goes on with what is wanted now: its tag is that of the same state, or it is sent whole.
        var (opened, problem) = await desk.OpenAsync(wanted, tag: null, Stopwatch.GetElapsedTime(began), cancel);
        if (opened is null) return OgcEndpoints.Refuse(context, problem!);
        context.Response.Headers["Repr-Digest"] = $"sha-256=:{Convert.ToBase64String(opened.Made.Sha256)}:";
        context.Response.Headers.CacheControl = "no-store";
        return Results.File(
            opened.Bytes, OgcLinks.GeoPackage, site is null ? "fleetlight.gpkg" : "fleetlight-site.gpkg", lastModified: null,
            new EntityTagHeaderValue(opened.Made.Tag), enableRangeProcessing: true);
    }

    private static async Task<bool> IsKnownAsync(NpgsqlDataSource database, string organisation, string site, CancellationToken cancel)
    {
        if (await new StateRows(database, organisation).FindAsync<SiteView>(StateKinds.Site, site, cancel) is not null) return true;
        await using var command = database.CreateCommand("select exists (select 1 from fleetlight.fl_feature where tenant_id = $1 and site_id = $2)");
        command.Parameters.Add(new NpgsqlParameter { Value = organisation });
        command.Parameters.Add(new NpgsqlParameter { Value = site });
        return await command.ExecuteScalarAsync(cancel) is true;
    }
}
