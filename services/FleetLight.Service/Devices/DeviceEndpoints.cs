using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using Marten;
using Microsoft.AspNetCore.Http.Features;

namespace FleetLight.Service.Devices;

/// <summary>Devices: the list, the sites of each, and one that was lost.</summary>
public static class DeviceEndpoints
{
    private const int MostSilentDays = 3650;

    /// <summary>Maps them.</summary>
    public static void MapDevices(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/devices").WithTags("Devices");
        group.MapGet("", ListAsync).Needs(Scope.AssignSites)
            .WithSummary("Devices of the organisation")
            .WithDescription("In the order of their sources: when each was last seen, how far it is complete, which sites it is assigned. "
                + "'silentDays' gives those of which nothing was heard for so many days, and those that never handed anything in.")
            .Produces<Page<DeviceView>>().ProducesProblems(400, 401, 403);
        group.MapGet("/self/sites", OwnAsync).Needs(Scope.PostEvents)
            .WithSummary("The sites that the calling device is assigned").Produces<AssignedSites>().ProducesProblems(401, 403, 409);
        group.MapPut("/{source}/sites", AssignAsync).Needs(Scope.AssignSites)
            .WithSummary("Assign sites to a device")
            .WithDescription(
                "They take the place of those before. A device fetches what is built and expected there; it may read the rest of its organisation "
                + "as well.")
            .Accepts<AssignedSites>("application/json")
            .Produces<AssignedSites>().ProducesProblems(400, 401, 403, 404);
        group.MapPost("/{source}/lost", LostAsync).Needs(Scope.EnrolDevices)
            .WithSummary("Report a device lost")
            .WithDescription(
                "All its keys are refused at once on every node, and codes that would enrol it again are taken back. What it recorded stays. "
                + "A new device that goes on in its place is enrolled with the same source.")
            .Produces<LostDevice>().ProducesProblems(401, 403, 404);
    }

    private static async Task<IResult> ListAsync(
        Caller caller, IDocumentStore store, TimeProvider clock, CancellationToken cancel, int? silentDays = null, string? cursor = null,
        int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        if (silentDays is < 0 or > MostSilentDays)
            return Problems.Result(Problems.Parameter("silentDays", $"0 to {MostSilentDays} days are taken.", $"Ask for 0 to {MostSilentDays}."));
        await using var session = store.QuerySession(caller.Organisation);
        var silentSince = silentDays is { } days ? clock.GetUtcNow().AddDays(-days) : (DateTimeOffset?)null;
        var rows = await DeviceSites.ListAsync(session, page.After, page.Limit + 1, silentSince, cancel);
        string?[] sources = [.. rows.Select(row => row.Source)];
        var keys = (await session.Query<KeyRecord>()
                .Where(key => key.Organisation == caller.Organisation && sources.Contains(key.Source)).ToListAsync(cancel))
            .OrderBy(key => key.CreatedAt).ToLookup(key => key.Source, StringComparer.Ordinal);
        var now = clock.GetUtcNow();
        return Paging.ByKey([.. rows.Select(row => Show(row, [.. keys[row.Source]], now))], page, device => device.Source);
    }

    private static DeviceView Show(DeviceRow row, IReadOnlyList<KeyRecord> keys, DateTimeOffset now) => new()
    {
        Source = row.Source,
        Name = keys.Count > 0 ? keys[^1].Name : null,
        Device = keys.LastOrDefault(key => key.Device is not null)?.Device,
        Role = keys.Count > 0 ? keys[^1].Role : null,
        HasKey = keys.Any(key => key.InForce(now)),
        LastSeen = row.LastSeen,
        Receipt = row.Receipt,
        Sites = row.Sites,
    };

    private static async Task<IResult> OwnAsync(Caller caller, IDocumentStore store, CancellationToken cancel)
    {
        if (caller.Source is not { } source)
            return Problems.Result(Problems.Conflict("The key speaks for no device.", "Use the key that was made for the device, with its source."));
        await using var session = store.QuerySession(caller.Organisation);
        return Answers.Json(new AssignedSites { Sites = [.. await DeviceSites.OfAsync(session, source, cancel)] });
    }

    private static async Task<IResult> AssignAsync(
        HttpRequest request, string source, Caller caller, Acting acting, IDocumentStore store, CancellationToken cancel)
    {
        source = SourceOf(request, source);
        await using var session = store.LightweightSession(caller.Organisation);
        if (!await DeviceSites.KnowsAsync(session, source, cancel)) return Problems.Result(Problems.NotFound("device", source));
        var (wanted, problem) = await RequestBody.ReadAsync<AssignedSites>(request, "a JSON object with 'sites'", cancel);
        if (wanted is null) return Problems.Result(problem!);
        string[] sites = [.. wanted.Sites.Distinct(StringComparer.Ordinal)];
        DeviceSites.Assign(session, source, sites);
        acting.Note(session, AdministrativeAct.SitesAssigned, source, ("sites", string.Join(' ', sites)));
        await session.SaveChangesAsync(cancel);
        return Answers.Json(new AssignedSites { Sites = sites });
    }

    private static async Task<IResult> LostAsync(
        HttpRequest request, string source, Caller caller, Acting acting, IDocumentStore store, KeyDirectory directory, CancellationToken cancel)
    {
        source = SourceOf(request, source);
        var (keys, enrolments) = (Array.Empty<KeyRecord>(), Array.Empty<Enrolment>());
        var known = false;
        await KeyDesk.SaveAsync(store, caller.Organisation, async session =>
        {
            known = await DeviceSites.KnowsAsync(session, source, cancel);
            if (!known) return;
            keys = [.. await session.Query<KeyRecord>()
                .Where(key => key.Organisation == caller.Organisation && key.Source == source && key.RevokedAt == null).ToListAsync(cancel)];
            enrolments = [.. await session.Query<Enrolment>()
                .Where(each => each.Organisation == caller.Organisation && each.Source == source && each.UsedAt == null && each.WithdrawnAt == null)
                .ToListAsync(cancel)];
            foreach (var key in keys) KeyDesk.Revoke(session, key, acting.At);
            foreach (var enrolment in enrolments)
            {
                enrolment.WithdrawnAt = acting.At;
                session.Store(enrolment);
            }

            acting.Note(session, AdministrativeAct.DeviceLost, source, ("keys", string.Join(' ', keys.Select(key => key.Id))));
        }, cancel);
        if (!known) return Problems.Result(Problems.NotFound("device", source));
        foreach (var key in keys) directory.Forget(key.Id);
        return Answers.Json(new LostDevice
        {
            Source = source,
            RevokedKeys = [.. keys.Select(key => key.Id)],
            WithdrawnEnrolments = [.. enrolments.Select(each => each.Id)],
        });
    }

    // Routing leaves an escaped slash as it is, and a source may hold slashes: it is read from the request as it was sent.
    private static string SourceOf(HttpRequest request, string routed)
    {
        var raw = request.HttpContext.Features.Get<IHttpRequestFeature>()?.RawTarget ?? "";
        var parts = raw.Split('?')[0].Split('/');
        return parts.Length >= 2 && raw.Contains("/v1/devices/", StringComparison.Ordinal) ? Uri.UnescapeDataString(parts[^2]) : routed;
    }
}
