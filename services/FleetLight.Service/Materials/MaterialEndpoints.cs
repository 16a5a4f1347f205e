using FleetLight.Contracts.Views;
using FleetLight.Record.Materials;
using FleetLight.Service.Access;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Sites;
using Microsoft.AspNetCore.Mvc;

namespace FleetLight.Service.Materials;

/// <summary>What designs take of material, beside what was recorded as used.</summary>
public static class MaterialEndpoints
{
    private const string Says =
        "Duct, draw string, cable with the lengths to cut and from which reels, leads long enough that no joint sits under a fitting, boxes, connectors, glands, "
        + "gel and labels: what the newest designs ask for, what was recorded as used, and the difference. What is taken for granted is listed in 'assumptions' "
        + "and set otherwise by parameters of the same names; what cannot be worked out is named in 'missing'. Lengths in m, areas in mm², gel in ml, the "
        + "rest counted. A help for ordering, never a bill.";

    /// <summary>Maps them.</summary>
    public static void MapMaterials(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1").WithTags("Materials");
        group.MapGet("/circuits/{id}/materials", OfCircuitAsync).Needs(Scope.ReadStatus)
            .WithSummary("Materials and cut list of a circuit").WithDescription($"{Says} What the circuit shares with others is counted whole.")
            .Produces<MaterialsView>().ProducesTable().ProducesProblems(400, 401, 403, 404);
        group.MapGet("/sites/{id}/materials", OfSiteAsync).Needs(Scope.ReadStatus)
            .WithSummary("Materials and cut list of a site").WithDescription(Says)
            .Produces<MaterialsView>().ProducesTable().ProducesProblems(400, 401, 403, 404);
    }

    private static async Task<IResult> OfCircuitAsync(
        string id, Caller caller, SiteReader sites, CurrentCircuits circuits, [AsParameters] Asked asked, CancellationToken cancel)
    {
        if (!asked.TryRead(out var format, out var assumed, out var refused)) return refused!;
        if (await circuits.FindAsync(caller.Organisation, id, cancel) is not { } circuit) return Problems.Result(Problems.NotFound("circuit", id));
        var states = await sites.FindOfCircuitAsync(caller.Organisation, circuit.Basis, cancel);
        return Answer(MaterialList.OfCircuit(states, id, assumed), format);
    }

    private static async Task<IResult> OfSiteAsync(string id, Caller caller, SiteReader sites, [AsParameters] Asked asked, CancellationToken cancel)
    {
        if (!asked.TryRead(out var format, out var assumed, out var refused)) return refused!;
        return await sites.FindAsync(caller.Organisation, id, cancel) is { } states
            ? Answer(MaterialList.OfSite(states, assumed), format)
            : Problems.Result(Problems.NotFound("site", id));
    }

    private static IResult Answer(MaterialsView view, TableFormat format) =>
        format == TableFormat.Csv ? Answers.Csv(MaterialCsv.Of(view), "materials.csv") : Answers.Json(view);

    /// <summary>What may be asked for.</summary>
    private sealed record Asked(
        [FromQuery(Name = "format")] string? Format,
        [FromQuery(Name = "allowancePercent")] double? AllowancePercent,
        [FromQuery(Name = "endMetres")] double? EndMetres,
        [FromQuery(Name = "leadSlackMetres")] double? LeadSlackMetres,
        [FromQuery(Name = "reelMetres")] double? ReelMetres,
        [FromQuery(Name = "gelMillilitres")] double? GelMillilitres,
        [FromQuery(Name = "stringEndMetres")] double? StringEndMetres)
    {
        public bool TryRead(out TableFormat format, out MaterialAssumptions assumed, out IResult? refused)
        {
            var usual = MaterialAssumptions.Default;
            assumed = new MaterialAssumptions
            {
                AllowancePercent = AllowancePercent ?? usual.AllowancePercent,
                EndMetres = EndMetres ?? usual.EndMetres,
                LeadSlackMetres = LeadSlackMetres ?? usual.LeadSlackMetres,
                ReelMetres = ReelMetres ?? usual.ReelMetres,
                GelMillilitres = GelMillilitres ?? usual.GelMillilitres,
                StringEndMetres = StringEndMetres ?? usual.StringEndMetres,
            };
            var isRead = Query.TryEnum(Format, TableFormat.Json, "format", out format, out var problem) && Query.TrySettings(assumed, out problem);
            refused = isRead ? null : Problems.Result(problem!);
            return isRead;
        }
    }
}
