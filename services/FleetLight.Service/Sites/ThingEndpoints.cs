using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Store;
using Marten;

namespace FleetLight.Service.Sites;

/// <summary>Ducts, cables and boxes, one at a time.</summary>
public static class ThingEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapThings(this IEndpointRouteBuilder routes)
    {
        Map<DuctDocument, DuctView>(routes, "duct", "Bore and depth in mm, length in m, bends in degrees, fill in %.");
        Map<CableDocument, CableView>(routes, "cable", "Length in m, conductor area in mm², outside diameter in mm.");
        Map<BoxDocument, BoxView>(routes, "box", "How it lies, how it is sealed, and its joints.");
    }

    private static void Map<TDocument, TView>(IEndpointRouteBuilder routes, string kind, string units)
        where TDocument : StateDocument<TView>
        where TView : ThingView
    {
        var path = kind == "box" ? "/v1/boxes/{id}" : $"/v1/{kind}s/{{id}}";
        routes.MapGet(path, async (string id, Caller caller, IDocumentStore store, CancellationToken cancel) =>
            {
                await using var session = store.QuerySession(caller.Organisation);
                return await session.LoadAsync<TDocument>(id, cancel) is { } document
                    ? Answers.Json(document.View)
                    : Problems.Result(Problems.NotFound(kind, id));
            })
            .Needs(Scope.ReadStatus).WithTags("Ducts, cables, boxes")
            .WithSummary($"The state of a {kind}").WithDescription(units)
            .Produces<TView>().ProducesProblems(401, 403, 404);
    }
}
