using FleetLight.Contracts.Views;
using FleetLight.Record.Circuits;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Sync;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Circuits;

/// <summary>Circuits: the list, one status, its readings.</summary>
public static class CircuitEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapCircuits(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/circuits").WithTags("Circuits");
        group.MapGet("", ListAsync).Needs(Scope.ReadStatus)
            .WithSummary("Circuits, a line each")
            .WithDescription(
                "In the order of their ids, filtered by 'site', 'phase', 'verdict', 'rule' (a rule that finds something on the circuit or "
                + "on what it leans on) and 'q' (a text in the id or name). The Link header names the next page. Voltages are in V.")
            .Produces<Page<CircuitLine>>().ProducesProblems(400, 401, 403);
        group.MapGet("/{id}", GetAsync).Needs(Scope.ReadStatus)
            .WithSummary("The status of a circuit")
            .WithDescription(
                "Phase, what it should read (V, mA, Ω with 95 % intervals), its latest readings, the verdict and what would explain it. "
                + "A verdict is advice, never a certificate. Answers 304 to a known ETag. 'asOf' gives the state as it was at that time, "
                + "and 'knownBy' counts only what was known by then (RFC 3339).")
            .Produces<CircuitView>().Produces(304).ProducesProblems(400, 401, 403, 404);
        group.MapGet("/{id}/model", ModelAsync).Needs(Scope.ReadStatus)
            .WithSummary("A circuit as built, in the members that calculations take")
            .WithDescription(
                "Each member stands as it is in the request of every calculation that has a member of that name, so what the circuit should read "
                + "can be worked out elsewhere, the same. What is assumed, the risks and what is looked for are given in full, as the organisation "
                + "set them. 'missing' says what is wanting before it can be said what the circuit should read. Answers 304 to a known ETag. Lengths "
                + "in m, areas in mm², powers in W, currents in mA (driver's greatest in A), voltages in V, temperatures in °C, tolerances and risks "
                + "in %.")
            .Produces<CircuitModelView>().Produces(304).ProducesProblems(401, 403, 404);
        HeadroomEndpoint.Map(group);
        group.MapGet("/{id}/readings", ReadingsAsync).Needs(Scope.ReadStatus)
            .WithSummary("Every reading of a circuit, newest first")
            .WithDescription("Values in V, mA or Ω as the quantity says. Withdrawn readings are left out.")
            .Produces<Page<ReadingEntry>>().ProducesProblems(400, 401, 403);
    }

    private static async Task<IResult> ListAsync(
        Caller caller, NpgsqlDataSource database, CancellationToken cancel,
        string? site = null, string? phase = null, string? verdict = null, string? rule = null, string? q = null, string? cursor = null, int? limit = null)
    {
        if (!Query.TryEnum<CircuitPhase>(phase, "phase", out var wantedPhase, out var problem)
            || !Query.TryEnum<CircuitVerdict>(verdict, "verdict", out var wantedVerdict, out problem)
            || !Paging.TryRead(cursor, limit, out var page, out problem))
            return Problems.Result(problem!);
        var found = await CircuitRows.ListAsync(
            database, caller.Organisation, page.After, page.Limit + 1, cancel, site, wantedPhase, wantedVerdict, rule, q);
        return Paging.ByKey(found, page, line => line.Id);
    }

    private static async Task<IResult> GetAsync(
        string id, HttpRequest request, Caller caller, CircuitStatus status, CircuitHistory history, CancellationToken cancel,
        string? asOf = null, string? knownBy = null)
    {
        if (asOf is not null || knownBy is not null)
        {
            if (!Query.TryTime(asOf, "asOf", out var at, out var problem) || !Query.TryTime(knownBy, "knownBy", out var known, out problem))
                return Problems.Result(problem!);
            return await history.AsOfAsync(caller.Organisation, id, at, known, cancel) is { } past
                ? Answers.Json(past)
                : Problems.Result(Problems.NotFound("circuit", id));
        }

        if (!FeedCursor.TryParse(request.Headers[FeedCursor.SeenThroughHeader], out var seen))
        {
            return Problems.Result(Problems.Parameter(FeedCursor.SeenThroughHeader, "The cursor is none that was given out here.",
                "Send back what an answer said in this header, or a cursor of the change feed; or leave it out."));
        }

        var rendered = await status.RenderedAsync(caller.Organisation, id, seen.Position).WaitAsync(cancel);
        return rendered is null ? Problems.Result(Problems.NotFound("circuit", id)) : new RenderedResult(rendered);
    }

    private static async Task<IResult> ReadingsAsync(
        string id, Caller caller, NpgsqlDataSource database, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        return Paging.ByOffset(await ReadingRows.PageAsync(database, caller.Organisation, id, page, cancel), page);
    }

    private static async Task<IResult> ModelAsync(string id, Caller caller, CurrentCircuits circuits, CancellationToken cancel) =>
        await circuits.FindAsync(caller.Organisation, id, cancel) is { } found
            ? new RenderedResult(Rendered.Of(CircuitModels.Of(found.Basis)))
            : Problems.Result(Problems.NotFound("circuit", id));
}
