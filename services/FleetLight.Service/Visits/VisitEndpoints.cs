using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using FleetLight.Service.Store;
using Marten;
using Npgsql;

namespace FleetLight.Service.Visits;

/// <summary>Visits: planned by the office, read by whoever goes.</summary>
public static class VisitEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapVisits(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/visits").WithTags("Visits");
        group.MapPost("", PlanAsync).Needs(Scope.PlanVisits)
            .WithSummary("Plan a visit")
            .WithDescription("A day, a site, who goes, which alerts are to be seen to, and a note. The alerts belong to the site; each shows its visit from then on.")
            .Accepts<VisitRequest>("application/json").Produces<VisitView>(201).ProducesProblems(400, 401, 403);
        group.MapGet("", ListAsync).Needs(Scope.ReadAsBuilt)
            .WithSummary("Visits, by day")
            .WithDescription(
                "Filtered by 'day', or 'from' and 'to', by 'site', 'source' and 'state'. Each shows its alerts as they stand now. A device sees the "
                + "visits for itself and those for no device. The Link header names the next page.")
            .Produces<Page<VisitView>>().ProducesProblems(400, 401, 403);
        group.MapGet("/{id}", GetAsync).Needs(Scope.ReadAsBuilt)
            .WithSummary("A visit, with what to take along")
            .WithDescription(
                "What to take along follows from the alerts, from what would explain the circuits' readings, and from what is built. Lengths in m, bores "
                + "in mm, areas in mm², powers in W. It is advice; cautions come with it. The ETag is the version of the plan.")
            .Produces<VisitView>().ProducesProblems(401, 403, 404);
        group.MapPut("/{id}", ChangeAsync).Needs(Scope.PlanVisits)
            .WithSummary("Change a visit's plan")
            .WithDescription(
                "The plan takes the place of the one before, whole. It says from which version it was made, as 'version' or in the header If-Match; one "
                + "that was made from another version than the newest is refused with 409.")
            .Accepts<VisitChangeRequest>("application/json").Produces<VisitView>().ProducesProblems(400, 401, 403, 404, 409);
        group.MapPost("/{id}/done", DoneAsync).Needs(Scope.ReadAsBuilt)
            .WithSummary("Say that a visit was made")
            .WithDescription(
                "By whoever may plan visits, or by a device that is shown the visit. The body may hold {\"note\": …}. Its alerts stand until their "
                + "causes have gone. Said again, nothing more happens.")
            .Accepts<NoteBody>(isOptional: true, "application/json").Produces<VisitView>().ProducesProblems(400, 401, 403, 404, 409);
        group.MapDelete("/{id}", CallOffAsync).Needs(Scope.PlanVisits)
            .WithSummary("Call a visit off").WithDescription("It is kept and shown as called off; its alerts are without a visit again.")
            .Produces<VisitView>().ProducesProblems(401, 403, 404, 409);
    }

    private static async Task<IResult> PlanAsync(HttpRequest request, Caller caller, Acting acting, VisitDesk desk, CancellationToken cancel)
    {
        var (wanted, problem) = await RequestBody.ReadAsync<VisitRequest>(
            request, "a JSON object with 'day' (YYYY-MM-DD), 'siteId' and perhaps 'crew', 'source', 'alertIds' and 'note'", cancel);
        if (wanted is null) return Problems.Result(problem!);
        return Show(request.HttpContext, await desk.PlanAsync(wanted, caller, acting, cancel), StatusCodes.Status201Created);
    }

    private static async Task<IResult> ListAsync(
        Caller caller, NpgsqlDataSource database, IDocumentStore store, CancellationToken cancel,
        string? day = null, string? from = null, string? to = null, string? site = null, string? source = null, string? state = null,
        string? cursor = null, int? limit = null)
    {
        if (!TryDay(day, "day", out var on, out var problem) || !TryDay(from, "from", out var first, out problem) || !TryDay(to, "to", out var last, out problem)
            || !Query.TryEnum<VisitState>(state, "state", out var wanted, out problem) || !Paging.TryRead(cursor, limit, out var page, out problem))
            return Problems.Result(problem!);
        var filter = new VisitFilter(Later(on, first), Earlier(on, last), site, source, Sees.OnlyOf(caller), wanted);
        var found = await VisitRows.ListAsync(database, caller.Organisation, filter, page.After, page.Limit + 1, cancel);
        await using var session = store.QuerySession(caller.Organisation);
        return Paging.ByKey(await WithAlertsAsync(session, found, cancel), page, VisitRows.PlaceOf);
    }

    private static async Task<IResult> GetAsync(
        string id, HttpContext context, Caller caller, VisitDesk desk, TakeAlongDesk things, IDocumentStore store, CancellationToken cancel)
    {
        if (await desk.FindAsync(caller.Organisation, id, cancel) is not { } visit || !Sees.It(caller, visit))
            return Problems.Result(Problems.NotFound("visit", id));
        await using var session = store.QuerySession(caller.Organisation);
        var shown = (await WithAlertsAsync(session, [visit], cancel))[0];
        if (shown.State == VisitState.Planned) shown = shown with { TakeAlong = await things.OfAsync(caller.Organisation, shown.Alerts!, cancel) };
        return Show(context, (shown, null), StatusCodes.Status200OK);
    }

    private static async Task<IResult> ChangeAsync(string id, HttpRequest request, Caller caller, Acting acting, VisitDesk desk, CancellationToken cancel)
    {
        var (wanted, problem) = await RequestBody.ReadAsync<VisitChangeRequest>(
            request, "a JSON object with 'day' (YYYY-MM-DD), 'version' and perhaps 'crew', 'source', 'alertIds' and 'note'", cancel);
        if (wanted is null) return Problems.Result(problem!);
        int? version = wanted.Version;
        if (version is null && request.Headers.IfMatch.ToString() is { Length: > 0 } header)
        {
            if (!int.TryParse(header.Trim('"'), NumberStyles.None, CultureInfo.InvariantCulture, out var match))
                return Problems.Result(Problems.Parameter("If-Match", "The header names no version of a visit.", "Send the ETag that the visit was answered with."));
            version = match;
        }

        return Show(request.HttpContext, await desk.ChangeAsync(id, wanted, version, caller, acting, cancel), StatusCodes.Status200OK);
    }

    private static async Task<IResult> DoneAsync(string id, HttpRequest request, Caller caller, Acting acting, VisitDesk desk, CancellationToken cancel)
    {
        string? note = null;
        if (request.ContentLength is not 0 && request.ContentType is not null)
        {
            var (read, problem) = await NoteBody.ReadAsync(request, cancel);
            if (problem is not null) return Problems.Result(problem);
            note = read;
        }

        return Show(request.HttpContext, await desk.DoneAsync(id, note, caller, acting, cancel), StatusCodes.Status200OK);
    }

    private static async Task<IResult> CallOffAsync(string id, HttpContext context, Caller caller, Acting acting, VisitDesk desk, CancellationToken cancel) =>
        Show(context, await desk.CallOffAsync(id, caller, acting, cancel), StatusCodes.Status200OK);

    private static async Task<IReadOnlyList<VisitView>> WithAlertsAsync(IQuerySession session, IReadOnlyList<VisitView> visits, CancellationToken cancel)
    {
        string[] ids = [.. visits.SelectMany(visit => visit.AlertIds).Distinct(StringComparer.Ordinal)];
        var alerts = ids.Length == 0
            ? []
            : (await session.LoadManyAsync<AlertDocument>(cancel, ids)).ToDictionary(alert => alert.Id, alert => alert.View, StringComparer.Ordinal);
        return [.. visits.Select(visit => visit with { Alerts = [.. visit.AlertIds.Select(id => Line(id, alerts.GetValueOrDefault(id)))] })];
    }

    private static VisitAlert Line(string id, AlertView? alert) =>
        new() { Id = id, Standing = alert?.Standing, ClearedAt = alert?.ClearedAt, Finding = alert?.Finding };

    private static IResult Show(HttpContext context, (VisitView? Visit, Problem? Problem) answer, int status)
    {
        if (answer.Visit is not { } visit) return Problems.Result(answer.Problem!);
        context.Response.Headers.ETag = string.Create(CultureInfo.InvariantCulture, $"\"{visit.Version}\"");
        return Answers.Json(visit, status);
    }

    private static bool TryDay(string? text, string name, out DateOnly? day, out Problem? problem)
    {
        (day, problem) = (null, null);
        if (string.IsNullOrEmpty(text)) return true;
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var found))
        {
            day = found;
            return true;
        }

        problem = Problems.Parameter(name, "The day cannot be read.", "Use YYYY-MM-DD, for instance 2026-05-04.");
        return false;
    }

    private static DateOnly? Later(DateOnly? one, DateOnly? other) => one is null ? other : other is null || one > other ? one : other;

    private static DateOnly? Earlier(DateOnly? one, DateOnly? other) => one is null ? other : other is null || one < other ? one : other;
}
