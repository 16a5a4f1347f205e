using FleetLight.Contracts.Views;
using FleetLight.Record.Works;
using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
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
        Map<DuctView>(routes, "duct", (works, id) => works.DuctOf(id), "Bore and depth in mm, length in m, bends in degrees, fill in %.");
        Map<CableView>(routes, "cable", (works, id) => works.CableOf(id), "Length in m, conductor area in mm², outside diameter in mm.");
        Map<BoxView>(routes, "box", (works, id) => works.BoxOf(id), "How it lies, how it is sealed, and its joints.");
    }

    private static void Map<TView>(IEndpointRouteBuilder routes, string kind, Func<IWorks, string, TView?> then, string units) where TView : ThingView
    {
        var path = kind == "box" ? "/v1/boxes/{id}" : $"/v1/{kind}s/{{id}}";
        routes.MapGet(path, async (
                string id, Caller caller, NpgsqlDataSource database, CircuitHistory history, CancellationToken cancel,
                string? asOf = null, string? knownBy = null) =>
            {
                if (!Query.TryTime(asOf, "asOf", out var at, out var problem) || !Query.TryTime(knownBy, "knownBy", out var known, out problem))
                    return Problems.Result(problem!);
                var view = at is null && known is null
                    ? await new StateRows(database, caller.Organisation).FindAsync<TView>(kind, id, cancel)
                    : await (await history.OpenAsync(caller.Organisation, at, known, cancel)).UntilWholeAsync(works => then(works, id), cancel);
                return view is not null ? Answers.Json(view) : Problems.Result(Problems.NotFound(kind, id));
            })
            .Needs(Scope.ReadStatus).WithTags("Ducts, cables, boxes")
            .WithSummary($"The state of a {kind}")
            .WithDescription(units + " 'asOf' gives the state as it was at that time, and 'knownBy' counts only what was known by then (RFC 3339).")
            .Produces<TView>().ProducesProblems(400, 401, 403, 404);
    }
}
