using FleetLight.Contracts.Views;
using FleetLight.Record.OpenPoints;
using FleetLight.Service.Access;
using FleetLight.Service.Hosting;
using FleetLight.Service.Sites;

namespace FleetLight.Service.OpenPoints;

/// <summary>What is missing on a site before the crew leaves it.</summary>
public static class OpenPointEndpoint
{
    /// <summary>The last part of its path.</summary>
    public const string Path = "/open-points";

    /// <summary>Maps it.</summary>
    public static void MapOpenPoints(this IEndpointRouteBuilder routes) =>
        routes.MapGet($"/v1/sites/{{id}}{Path}", GetAsync).Needs(Scope.ReadStatus).WithTags("Sites")
            .WithSummary("What is missing on a site before the crew leaves")
            .WithDescription(
                "What the rules find on its ducts, cables, boxes and circuits, and what the record itself is short of: strings, plugs, labels, sleeves, "
                + "strain relief, gel, fittings, tests, readings. By place, then phase, then the weightiest first. Each point names the facts of which any "
                + "one takes it off, with their data as far as it is known, ready to be handed in; 'asks' names the members that are still to be filled "
                + "in. Units stand in the names of the members. Advice, never a certificate.")
            .Produces<OpenPointsView>().ProducesProblems(400, 401, 403, 404);

    private static async Task<IResult> GetAsync(string id, Caller caller, SiteReader sites, CancellationToken cancel, string? phase = null)
    {
        if (!Query.TryEnum<WorkPhase>(phase, "phase", out var wanted, out var problem)) return Problems.Result(problem!);
        return await sites.FindAsync(caller.Organisation, id, cancel) is { } states
            ? Answers.Json(OpenPointList.Of(states, wanted))
            : Problems.Result(Problems.NotFound("site", id));
    }
}
