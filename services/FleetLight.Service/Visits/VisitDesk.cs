using System.Security.Cryptography;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Visits;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Devices;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using JasperFx.Events;
using Marten;

namespace FleetLight.Service.Visits;

/// <summary>Plans visits, changes and ends them: each act is one event of the visit and one of the audit, in one transaction.</summary>
public sealed class VisitDesk(IDocumentStore store)
{
    private static readonly DateOnly First = new(2000, 1, 1);
    private static readonly DateOnly Last = new(2199, 12, 31);

    /// <summary>A visit as its own events say; none where there is none. Its row may be a moment behind.</summary>
    public async Task<VisitView?> FindAsync(string organisation, string id, CancellationToken cancel)
    {
        await using var session = store.QuerySession(organisation);
        return await FindAsync(session, id, cancel);
    }

    /// <summary>Plans one.</summary>
    public async Task<(VisitView? Visit, Problem? Problem)> PlanAsync(VisitRequest wanted, Caller caller, Acting acting, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        var plan = PlanOf(wanted.Day, wanted.Crew, wanted.Source, wanted.AlertIds, wanted.Note);
        if (await WrongAsync(session, plan, wanted.SiteId, [], cancel) is { } problem) return (null, problem);
        var planned = new VisitPlanned
        {
            VisitId = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(8)),
            SiteId = wanted.SiteId,
            Plan = plan,
            By = caller.Name,
            At = acting.At,
        };
        session.Events.StartStream(VisitEvents.StreamOf(planned.VisitId), planned);
        acting.Note(session, AdministrativeAct.VisitPlanned, planned.VisitId, ("site", wanted.SiteId), ("day", $"{plan.Day:yyyy-MM-dd}"));
        await session.SaveChangesAsync(cancel);
        return (VisitFold.Apply(null, planned), null);
    }

    /// <summary>Puts another plan in the place of a visit's.</summary>
    public Task<(VisitView? Visit, Problem? Problem)> ChangeAsync(
        string id, VisitChangeRequest wanted, int? version, Caller caller, Acting acting, CancellationToken cancel)
    {
        var plan = PlanOf(wanted.Day, wanted.Crew, wanted.Source, wanted.AlertIds, wanted.Note);
        return DecideAsync(id, caller, acting, AdministrativeAct.VisitChanged, async (session, visit) =>
            // What stands in it already was looked at when it came.
            await WrongAsync(session, plan, visit.SiteId, visit.AlertIds, cancel) is { } problem
                ? (VisitDecision.Nothing, problem)
                : (VisitDecider.Change(visit, plan, version, caller.Name, acting.At), null), cancel);
    }

    /// <summary>Says that a visit was made.</summary>
    public Task<(VisitView? Visit, Problem? Problem)> DoneAsync(string id, string? note, Caller caller, Acting acting, CancellationToken cancel) =>
        DecideAsync(id, caller, acting, AdministrativeAct.VisitDone, (_, visit) => Task.FromResult<(VisitDecision, Problem?)>(
            Sees.MayEnd(caller, visit)
                ? (VisitDecider.Done(visit, note, caller.Name, acting.At), null)
                : (VisitDecision.Nothing, Problems.ScopeMissing(Scope.PlanVisits))), cancel);

    /// <summary>Calls a visit off.</summary>
    public Task<(VisitView? Visit, Problem? Problem)> CallOffAsync(string id, Caller caller, Acting acting, CancellationToken cancel) =>
        DecideAsync(id, caller, acting, AdministrativeAct.VisitCalledOff, (_, visit) => Task.FromResult<(VisitDecision, Problem?)>(
            (VisitDecider.CallOff(visit, caller.Name, acting.At), null)), cancel);

    private async Task<(VisitView? Visit, Problem? Problem)> DecideAsync(
        string id, Caller caller, Acting acting, AdministrativeAct act,
        Func<IQuerySession, VisitView, Task<(VisitDecision Decision, Problem? Problem)>> decide, CancellationToken cancel)
    {
        await using var session = store.LightweightSession(caller.Organisation);
        if (await FindAsync(session, id, cancel) is not { } visit || !Sees.It(caller, visit)) return (null, Problems.NotFound("visit", id));
        var (decision, problem) = await decide(session, visit);
        if (problem is not null) return (null, problem);
        if (decision.Refusal is { } refusal) return (null, Problems.Conflict(refusal.Detail, refusal.Remedy));
        if (decision.Event is not { } happened) return (visit, null);
        session.Events.Append(VisitEvents.StreamOf(id), visit.Version + 1, happened);
        acting.Note(session, act, id, ("site", visit.SiteId));
        try
        {
            await session.SaveChangesAsync(cancel);
        }
        catch (EventStreamUnexpectedMaxEventIdException)
        {
            return (null, Problems.Conflict("Somebody else changed the visit at the same moment.", "Read the visit again, then make your change."));
        }

        return (VisitFold.Apply(visit, happened), null);
    }

    private static async Task<VisitView?> FindAsync(IQuerySession session, string id, CancellationToken cancel) =>
        VisitFold.Fold((await session.Events.FetchStreamAsync(VisitEvents.StreamOf(id), token: cancel)).Select(each => each.Data).OfType<IVisitEvent>());

    private static VisitPlan PlanOf(DateOnly day, string? crew, string? source, string[]? alertIds, string? note) => new()
    {
        Day = day,
        Crew = crew?.Trim(),
        Source = source,
        AlertIds = [.. (alertIds ?? []).Distinct(StringComparer.Ordinal)],
        Note = note?.Trim(),
    };

    private static async Task<Problem?> WrongAsync(
        IQuerySession session, VisitPlan plan, string siteId, IReadOnlyCollection<string> had, CancellationToken cancel)
    {
        if (plan.Day < First || plan.Day > Last)
            return Problems.Parameter("day", "The day lies before 2000 or after 2199.", "Give the day of the visit as YYYY-MM-DD.");
        if (plan.Source is { } source && !await DeviceSites.KnowsAsync(session, source, cancel))
            return Problems.Parameter("source", "Your organisation has no such device.", "Give a source that GET /v1/devices lists, or leave it out.");
        string[] fresh = [.. plan.AlertIds.Except(had, StringComparer.Ordinal)];
        var known = (await session.LoadManyAsync<AlertDocument>(cancel, fresh)).ToDictionary(alert => alert.Id, StringComparer.Ordinal);
        foreach (var id in fresh)
        {
            if (!known.TryGetValue(id, out var alert))
                return Problems.Parameter("alertIds", $"Your organisation has no alert with the id '{id}'.", "Give ids that GET /v1/alerts lists.");
            // Of some things no fact has said the site yet.
            if (alert.SiteId.Length > 0 && alert.SiteId != siteId)
                return Problems.Parameter("alertIds", $"The alert '{id}' belongs to another site.", "Plan a visit of its own to that site.");
        }

        return null;
    }
}

/// <summary>Who sees which visits: whoever plans or assigns sees all, a device those for itself or for nobody in particular.</summary>
public static class Sees
{
    /// <summary>The device beside whose visits a caller sees only those for nobody; none where the caller sees all.</summary>
    public static string? OnlyOf(Caller caller) => caller.May(Scope.PlanVisits) || caller.May(Scope.AssignSites) ? null : caller.Source;

    /// <summary>Whether a caller sees a visit.</summary>
    public static bool It(Caller caller, VisitView visit) => OnlyOf(caller) is not { } own || visit.Source is null || visit.Source == own;

    /// <summary>Whether a caller may say that a visit was made: whoever plans, and the devices that see it.</summary>
    public static bool MayEnd(Caller caller, VisitView visit) =>
        caller.May(Scope.PlanVisits) || (caller is { Source: not null } && caller.May(Scope.PostEvents) && It(caller, visit));
}
