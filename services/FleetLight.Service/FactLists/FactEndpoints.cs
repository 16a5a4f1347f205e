using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Contracts.Wire;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;

namespace FleetLight.Service.FactLists;

/// <summary>Facts as they were recorded.</summary>
public static class FactEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapFacts(this IEndpointRouteBuilder routes) =>
        routes.MapGet("/v1/facts", ListAsync).Needs(Scope.ReadStatus).WithTags("Facts")
            .WithSummary("Facts as they were recorded")
            .WithDescription(
                "Each with its data as sent, its times, and what is left of it after its corrections. 'site' gives all facts from which the states of "
                + "the site's ducts, cables, boxes and circuits follow: those that name it, and those of all things that these lean on. 'kind' and "
                + "'thing' together give the history of one thing. With 'order=recorded' the list is followed: 'next' is given at its end too, and "
                + "goes on from there days later with what is new, corrections of earlier facts included. A fact may come a second time; its name "
                + "('fact') tells. With 'startsOver' the answer begins anew. Facts that could not be taken in are under /v1/set-aside.")
            .Produces<FactPage>().ProducesProblems(400, 401, 403, 503);

    private static async Task<IResult> ListAsync(
        HttpRequest request, Caller caller, FactQuery facts, CancellationToken cancel,
        string? site = null, string? kind = null, string? thing = null, string? source = null, string? type = null,
        string? happenedFrom = null, string? happenedTo = null, string? order = null, string? cursor = null, int? limit = null)
    {
        if (!Query.TryEnum<ThingKind>(kind, "kind", out var wantedKind, out var problem)
            || !Query.TryTime(happenedFrom, "happenedFrom", out var from, out problem)
            || !Query.TryTime(happenedTo, "happenedTo", out var to, out problem)
            || !Query.TryEnum(order, FactListOrder.Happened, "order", out var wantedOrder, out problem)
            || !Paging.TryRead(null, limit, out var page, out problem)
            || !TryThing(wantedKind, thing, out var about, out problem)
            || !TryType(type, out problem)
            || !TryCursor(cursor, wantedOrder, out var given, out problem))
            return Problems.Result(problem!);
        if (await facts.EditionAsync(cancel) is not { } edition) return Problems.Result(Problems.ListsNotWhole());

        var startsOver = given is { } old && old.Edition != edition;
        var after = given is null || startsOver ? FactCursor.Start(wantedOrder, edition) : given.Value;
        var list = about is not null ? FactList.Of(about) : site is not null ? FactList.OfSite(site) : FactList.Everything;
        var wish = new FactWish(list, wantedOrder)
        {
            // The list of a site holds what its things lean on as well; that of a thing is asked for what names the site.
            SiteId = about is null ? null : site,
            Source = source,
            Type = type,
            From = from,
            To = to,
        };
        var (found, next, more) = await facts.PageAsync(caller.Organisation, wish, after, page.Limit, cancel);
        var answer = new FactPage
        {
            Items = found,
            Next = more || wantedOrder == FactListOrder.Recorded ? next.ToString() : null,
            More = more,
            StartsOver = startsOver,
        };
        if (more) request.HttpContext.Response.Headers.Link = Paging.LinkToNext(request, answer.Next!);
        return Answers.Json(answer);
    }

    private static bool TryThing(ThingKind? kind, string? id, out ThingRef? thing, out Problem? problem)
    {
        thing = null;
        problem = null;
        if (kind is null && string.IsNullOrEmpty(id)) return true;
        if (kind is { } one && !string.IsNullOrEmpty(id))
        {
            thing = new ThingRef(one, id);
            return true;
        }

        problem = Problems.Parameter(kind is null ? "kind" : "thing", "A thing is named by its kind and its id.", "Give 'kind' and 'thing' together.");
        return false;
    }

    private static bool TryType(string? type, out Problem? problem)
    {
        problem = type is null || FactTypes.Find(type) is not null
            ? null
            : Problems.Parameter("type", "No such type of fact is known.", "Use a type with its version, for instance fleetlight.reading.taken.v1.");
        return problem is null;
    }

    private static bool TryCursor(string? text, FactListOrder order, out FactCursor? cursor, out Problem? problem)
    {
        problem = FactCursor.TryParse(text, order, out cursor)
            ? null
            : Problems.Parameter("cursor", "The cursor is none that was given out here for this order.", "Use 'next' of an answer in the same order, or none.");
        return problem is null;
    }
}
