using FleetLight.Contracts.Views;
using FleetLight.Record.Alerts;
using FleetLight.Record.Rules;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using FleetLight.Service.Intake;
using FleetLight.Service.Store;
using FleetLight.Service.Visits;
using Marten;
using Npgsql;

namespace FleetLight.Service.Alerts;

/// <summary>Alerts: the list, one, taking note of one; and the rules behind them.</summary>
public static class AlertEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapAlerts(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1").WithTags("Alerts");
        group.MapGet("/alerts", ListAsync).Needs(Scope.ReadStatus)
            .WithSummary("Alerts")
            .WithDescription(
                "Those that stand, unless 'standing' says raised, acknowledged, cleared or any. Filtered by 'site', 'circuit', 'severity', "
                + "'rule', 'raisedAfter' (then or later) and 'raisedBefore'. In the order of their ids, which never change, so pages neither double "
                + "nor pass over what stood all the while. The Link header names the next page.")
            .Produces<Page<AlertView>>().ProducesProblems(400, 401, 403);
        group.MapGet("/alerts/{id}", GetAsync).Needs(Scope.ReadStatus)
            .WithSummary("One alert").Produces<AlertView>().ProducesProblems(401, 403, 404);
        group.MapPost("/alerts/{id}/acknowledge", AcknowledgeAsync).Needs(Scope.AcknowledgeAlerts)
            .WithSummary("Take note of an alert")
            .WithDescription("The body is {\"note\": …}. The alert stands until its cause has gone.")
            .Accepts<NoteBody>("application/json")
            .Produces<AlertView>().ProducesProblems(400, 401, 403, 404, 409);
        group.MapGet("/rules", () => Answers.Json(RuleBook.All)).Needs(Scope.ReadStatus)
            .WithSummary("The rules that raise alerts").WithDescription("Each with its severity, what it finds, what clears it and its source.")
            .Produces<IReadOnlyList<Rule>>().ProducesProblems(401, 403);
    }

    private static async Task<IResult> ListAsync(
        Caller caller, IDocumentStore store, NpgsqlDataSource database, CancellationToken cancel,
        string? site = null, string? circuit = null, string? severity = null, string? rule = null, string? standing = null,
        string? raisedAfter = null, string? raisedBefore = null, string? cursor = null, int? limit = null)
    {
        AlertStanding? wantedStanding = null;
        if (!Query.TryEnum<AlertSeverity>(severity, "severity", out var wantedSeverity, out var problem)
            || (standing != "any" && !Query.TryEnum(standing, "standing", out wantedStanding, out problem, "any"))
            || !Query.TryTime(raisedAfter, "raisedAfter", out var after, out problem)
            || !Query.TryTime(raisedBefore, "raisedBefore", out var before, out problem)
            || !Paging.TryRead(cursor, limit, out var page, out problem))
            return Problems.Result(problem!);
        await using var session = store.QuerySession(caller.Organisation);
        var query = session.Query<AlertDocument>().Where(alert => alert.Id.CompareTo(page.After) > 0);
        if (site is not null) query = query.Where(alert => alert.SiteId == site);
        if (circuit is not null) query = query.Where(alert => alert.View.Finding.CircuitIds.Contains(circuit));
        if (rule is not null) query = query.Where(alert => alert.Rule == rule);
        if (after is { } from) query = query.Where(alert => alert.View.RaisedAt >= from);
        if (before is { } to) query = query.Where(alert => alert.View.RaisedAt < to);
        if (wantedSeverity is { } s) query = query.Where(alert => alert.Severity == s);
        if (wantedStanding is { } w) query = query.Where(alert => alert.Standing == w);
        else if (standing != "any") query = query.Where(alert => alert.Standing != AlertStanding.Cleared);
        var found = await query.OrderBy(alert => alert.Id).Take(page.Limit + 1).Select(alert => alert.View).ToListAsync(cancel);
        return Paging.ByKey(await WithVisitsAsync(database, caller.Organisation, found, cancel), page, alert => alert.Id);
    }

    // Which visit is to see to an alert is told where it is shown and kept with the visit only.
    private static async Task<IReadOnlyList<AlertView>> WithVisitsAsync(
        NpgsqlDataSource database, string organisation, IReadOnlyList<AlertView> alerts, CancellationToken cancel)
    {
        var visits = await VisitRows.PlannedForAsync(database, organisation, [.. alerts.Select(alert => alert.Id)], cancel);
        return visits.Count == 0
            ? alerts
            : [.. alerts.Select(alert => visits.TryGetValue(alert.Id, out var visit) ? alert with { VisitId = visit.Id, VisitDay = visit.Day } : alert)];
    }

    private static async Task<IResult> GetAsync(string id, Caller caller, IDocumentStore store, NpgsqlDataSource database, CancellationToken cancel)
    {
        await using var session = store.QuerySession(caller.Organisation);
        return await session.LoadAsync<AlertDocument>(id, cancel) is { } alert
            ? Answers.Json((await WithVisitsAsync(database, caller.Organisation, [alert.View], cancel))[0])
            : Problems.Result(Problems.NotFound("alert", id));
    }

    private static async Task<IResult> AcknowledgeAsync(
        string id, HttpRequest request, Caller caller, Acting acting, IDocumentStore store, NpgsqlDataSource database, CancellationToken cancel)
    {
        var (note, problem) = await NoteBody.ReadAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        await using var session = store.LightweightSession(caller.Organisation);
        // The alert's own events, not its document: the document may be a moment behind.
        var events = await session.Events.FetchStreamAsync(AlertEvents.StreamOf(id), token: cancel);
        var alert = AlertFold.Fold(events.Select(each => each.Data).OfType<IAlertEvent>());
        if (alert is null) return Problems.Result(Problems.NotFound("alert", id));
        if (alert.Standing == AlertStanding.Cleared)
            return Problems.Result(Problems.Conflict("The alert is cleared: its cause has gone.", "Nothing is left to note. It is raised again if the cause returns."));
        var noted = new AlertAcknowledged { AlertId = id, By = caller.Name, Note = note, At = acting.At };
        session.Events.Append(AlertEvents.StreamOf(id), noted);
        acting.Note(session, AdministrativeAct.AlertAcknowledged, id, ("note", note));
        await session.SaveChangesAsync(cancel);
        return Answers.Json((await WithVisitsAsync(database, caller.Organisation, [AlertFold.Apply(alert, noted)!], cancel))[0]);
    }
}
