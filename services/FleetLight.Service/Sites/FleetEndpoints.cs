using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.FactLists;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.Sites;

/// <summary>Lists over the whole fleet: its sites, and what was done on a day.</summary>
public static class FleetEndpoints
{
    /// <summary>Maps them.</summary>
    public static void Map(IEndpointRouteBuilder group)
    {
        group.MapGet("/fleet/sites", SitesAsync).Needs(Scope.ReadStatus)
            .WithSummary("The sites of the fleet, a line each")
            .WithDescription(
                "In the order of their ids: circuits by phase and by verdict, alerts that stand by severity, and when the newest fact happened. "
                + "Filtered by 'q' (a text in id, name or place), 'verdict' and 'severity'. The Link header names the next page.")
            .Produces<Page<FleetSiteLine>>().ProducesProblems(400, 401, 403, 503);
        group.MapGet("/fleet/day", DayAsync).Needs(Scope.ReadStatus)
            .WithSummary("What was done on a day")
            .WithDescription(
                "By device, and by when it happened, however late it came in: the sites that its facts name, their number by type, the first moment and "
                + "the last. 'offsetMinutes' says by which clock the day begins.")
            .Produces<FleetDayView>().ProducesProblems(400, 401, 403, 503);
    }

    private static async Task<IResult> SitesAsync(
        Caller caller, FleetSites sites, FactQuery facts, CancellationToken cancel,
        string? q = null, string? verdict = null, string? severity = null, string? cursor = null, int? limit = null)
    {
        if (!Query.TryEnum<CircuitVerdict>(verdict, "verdict", out var wantedVerdict, out var problem)
            || !Query.TryEnum<AlertSeverity>(severity, "severity", out var wantedSeverity, out problem)
            || !Paging.TryRead(cursor, limit, out var page, out problem))
            return Problems.Result(problem!);
        if (await facts.EditionAsync(cancel) is null) return Problems.Result(Problems.ListsNotWhole());
        var found = await sites.ListAsync(caller.Organisation, page.After, page.Limit + 1, q, wantedVerdict, wantedSeverity, cancel);
        return Paging.ByKey(found, page, site => site.Id);
    }

    private static async Task<IResult> DayAsync(
        Caller caller, FleetDays days, FactQuery facts, TimeProvider clock, CancellationToken cancel, string? date = null, int? offsetMinutes = null)
    {
        if (!Query.TryOffset(offsetMinutes, out var minutes, out var unknown)) return Problems.Result(unknown!);
        var offset = TimeSpan.FromMinutes(minutes);
        var day = DateOnly.FromDateTime(clock.GetUtcNow().ToOffset(offset).DateTime);
        if (!string.IsNullOrEmpty(date)
            && (!DateOnly.TryParseExact(date, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out day) || day.Year is < 2000 or > 9000))
            return Problems.Result(Problems.Parameter("date", "The day cannot be read.", "Use ISO 8601, for instance 2026-05-04."));
        if (await facts.EditionAsync(cancel) is null) return Problems.Result(Problems.ListsNotWhole());
        return Answers.Json(await days.ReadAsync(caller.Organisation, day, offset, cancel));
    }
}
