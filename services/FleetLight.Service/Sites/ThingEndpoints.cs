using FleetLight.Contracts.Views;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Works;
using Npgsql;

namespace FleetLight.Service.Sites;

/// <summary>Ducts, cables and boxes, one at a time.</summary>
public static class ThingEndpoints
{
    /// <summary>Maps them.</summary>
    public static void MapThings(this IEndpointRouteBuilder routes)
    {
        Map<DuctView>(routes, "duct", "Bore and depth in mm, length in m, bends in degrees, fill in %.");
        Map<CableView>(routes, "cable", "Length in m, conductor area in mm², outside diameter in mm.");
        Map<BoxView>(routes, "box", "How it lies, how it is sealed, and its joints.");
    }

    private static void Map<TView>(IEndpointRouteBuilder routes, string kind, string units) where TView : ThingView
    {
        var path = kind == "box" ? "/v1/boxes/{id}" : $"/v1/{kind}s/{{id}}";
        routes.MapGet(path, async (string id, Caller caller, NpgsqlDataSource database, CancellationToken cancel) =>
                await new StateRows(database, caller.Organisation).FindAsync<TView>(kind, id, cancel) is { } view
                    ? Answers.Json(view)
                    : Problems.Result(Problems.NotFound(kind, id)))
            .Needs(Scope.ReadStatus).WithTags("Ducts, cables, boxes")
            .WithSummary($"The state of a {kind}").WithDescription(units)
            .Produces<TView>().ProducesProblems(401, 403, 404);
    }
}
