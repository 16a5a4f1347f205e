using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using Marten;

namespace FleetLight.Service.Audit;

/// <summary>Who administered what.</summary>
public static class AuditEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapAudit(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/v1/audit", ListAsync).Needs(Scope.ReadAudit).WithTags("Audit")
            .WithSummary("Who administered what, newest first")
            .WithDescription("Every act of administering the organisation: who, what, when and from which network address. Acts are kept for ever.")
            .Produces<Page<ActDone>>().ProducesProblems(400, 401, 403);

    private static async Task<IResult> ListAsync(Caller caller, IDocumentStore store, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        await using var session = store.QuerySession(caller.Organisation);
        // The cursor is the place in the stream of the last act shown: acts that come meanwhile shift no page.
        var top = page.After.Length == 0
            ? (await session.Events.FetchStreamStateAsync(AuditEvents.Stream, cancel))?.Version ?? 0
            : page.Offset - 1;
        if (top < 1) return Paging.ByKey<ActDone>([], page, _ => "");
        var from = Math.Max(1, top - page.Limit);
        var events = await session.Events.FetchStreamAsync(AuditEvents.Stream, version: top, fromVersion: from, token: cancel);
        var found = events.OrderByDescending(each => each.Version).Select(each => (Place: each.Version, Act: (ActDone)each.Data)).ToArray();
        var next = found.Length > page.Limit ? found[page.Limit - 1].Place.ToString(CultureInfo.InvariantCulture) : "";
        return Paging.ByKey([.. found.Select(each => each.Act)], page, _ => next);
    }
}
