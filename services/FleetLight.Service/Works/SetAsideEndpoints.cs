using System.Globalization;
using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Audit;
using FleetLight.Service.Hosting;
using Marten;

namespace FleetLight.Service.Works;

/// <summary>What the projection set aside: list it, and have it taken in again once it is mended.</summary>
public static class SetAsideEndpoints
{
    // So many at once that one event stays small; whoever has more asks again.
    private const int MostAtOnce = 1000;

    /// <summary>Maps them.</summary>
    public static void MapSetAside(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1/set-aside").WithTags("Set aside");
        group.MapGet("", ListAsync).Needs(Scope.MendFacts)
            .WithSummary("What the states have to do without")
            .WithDescription(
                "Facts that have a receipt and lie in the store, but that cannot be worked into states, and things that keep an older state: "
                + "each with its error. An empty list is the rule.")
            .Produces<Page<SetAsideView>>().ProducesProblems(400, 401, 403);
        group.MapPost("/take-in", TakeInAsync).Needs(Scope.MendFacts)
            .WithSummary("Take in again what was set aside")
            .WithDescription(
                "After the cause was mended, by a newer version of the service or by a correction. At most 1,000 pieces a request; it is done "
                + "in the background, and what still fails stays in the list.")
            .Produces<TakingInView>(202).ProducesProblems(401, 403);
    }

    private static async Task<IResult> ListAsync(Caller caller, SetAsideList list, CancellationToken cancel, string? cursor = null, int? limit = null)
    {
        if (!Paging.TryRead(cursor, limit, out var page, out var problem)) return Problems.Result(problem!);
        var found = await list.AfterAsync(caller.Organisation, page.After, page.Limit + 1, cancel);
        return Paging.ByKey([.. found.Select(each => each.View)], page, each => each.Id);
    }

    private static async Task<IResult> TakeInAsync(Caller caller, Acting acting, SetAsideList list, IDocumentStore store, CancellationToken cancel)
    {
        var aside = await list.AfterAsync(caller.Organisation, "", MostAtOnce, cancel);
        if (aside.Count > 0)
        {
            await using var session = store.LightweightSession(caller.Organisation);
            session.Events.Append(ToTakeInAgain.Stream, new ToTakeInAgain
            {
                Events = [.. aside.Select(each => each.EventId).OfType<Guid>()],
                Things = [.. aside.Where(each => each.EventId is null).Select(each => each.View.Thing!)],
                By = caller.Name,
                At = acting.At,
            });
            acting.Note(session, AdministrativeAct.SetAsideTakenIn, null, ("pieces", aside.Count.ToString(CultureInfo.InvariantCulture)));
            await session.SaveChangesAsync(cancel);
        }

        return Answers.Json(new TakingInView(aside.Count), StatusCodes.Status202Accepted);
    }
}
