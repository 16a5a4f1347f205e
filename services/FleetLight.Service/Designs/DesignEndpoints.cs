using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Designs;
using FleetLight.Service.Access;
using FleetLight.Service.Calculations;
using FleetLight.Service.Circuits;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;
using FleetLight.Service.Sites;

namespace FleetLight.Service.Designs;

/// <summary>Designs of circuits as files: read, and written.</summary>
public static class DesignEndpoints
{
    private const string Layout =
        "A row for each circuit, fitting and run; contracts/README.md says what stands in which column. Lengths in m, areas in mm², powers in W, "
        + "currents in mA (the driver's greatest in A), voltages in V, tolerances in %, joints in Ω.";

    /// <summary>Maps them.</summary>
    public static void MapDesigns(this IEndpointRouteBuilder routes)
    {
        var group = routes.MapGroup("/v1").WithTags("Designs");
        group.MapPost("/designs/read", ReadAsync).Needs(Scope.ReadStatus).Limited(CallKind.Calculation)
            .WithSummary("Read designs from a file; nothing is stored")
            .WithDescription(
                "A table (text/csv) or JSON: one design or an array of them, each the data of fleetlight.circuit.designed.v1. All mistakes are named at once, "
                + $"each with its row and column and what to do; a circuit with one is not among the designs. {Layout} Separators may be commas, semicolons "
                + "with decimal commas, or tabs. What was read is stored by handing each design in as a fact.")
            .Accepts<CircuitDesigned[]>("application/json", Answers.CsvMediaType)
            .Produces<DesignsRead>().ProducesProblems(400, 401, 403, 413, 415);
        group.MapGet("/circuits/{id}/design", OfCircuitAsync).Needs(Scope.ReadStatus)
            .WithSummary("The newest design of a circuit")
            .WithDescription($"As JSON the data of fleetlight.circuit.designed.v1. {Layout} Where no design is recorded, 409 says so.")
            .Produces<CircuitDesigned>().ProducesTable().ProducesProblems(400, 401, 403, 404, 409);
        group.MapGet("/sites/{id}/designs", OfSiteAsync).Needs(Scope.ReadStatus)
            .WithSummary("The newest designs of a site's circuits")
            .WithDescription($"In the order of the circuits' ids; circuits without a design are left out. {Layout}")
            .Produces<CircuitDesigned[]>().ProducesTable().ProducesProblems(400, 401, 403, 404);
    }

    private static async Task<IResult> ReadAsync(HttpRequest request, CancellationToken cancel)
    {
        var (body, problem) = await CalculationDesk.ReadBodyAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        var isTable = request.ContentType?.StartsWith(Answers.CsvMediaType, StringComparison.OrdinalIgnoreCase) == true;
        return Answers.Json(isTable ? DesignReader.OfCsv(body) : DesignJson.Read(body));
    }

    private static async Task<IResult> OfCircuitAsync(
        string id, Caller caller, SiteReader sites, CurrentCircuits circuits, CancellationToken cancel, string? format = null)
    {
        if (!Query.TryEnum(format, TableFormat.Json, "format", out var wanted, out var problem)) return Problems.Result(problem!);
        if (await circuits.FindAsync(caller.Organisation, id, cancel) is null) return Problems.Result(Problems.NotFound("circuit", id));
        if (!(await sites.DesignsAsync(caller.Organisation, [id], cancel)).TryGetValue(id, out var design))
            return Problems.Result(Problems.Conflict("No design of the circuit is recorded.", "Record its design, or correct the fact that withdrew it."));
        return wanted == TableFormat.Csv ? Answers.Csv(DesignWriter.ToCsv([design]), "design.csv") : Answers.Json(design);
    }

    private static async Task<IResult> OfSiteAsync(string id, Caller caller, SiteReader sites, CancellationToken cancel, string? format = null)
    {
        if (!Query.TryEnum(format, TableFormat.Json, "format", out var wanted, out var problem)) return Problems.Result(problem!);
        if (await sites.DesignsOfSiteAsync(caller.Organisation, id, cancel) is not { } designs) return Problems.Result(Problems.NotFound("site", id));
        return wanted == TableFormat.Csv ? Answers.Csv(DesignWriter.ToCsv(designs), "designs.csv") : Answers.Json(designs);
    }
}
