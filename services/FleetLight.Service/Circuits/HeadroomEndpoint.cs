using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Wire;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;
using FleetLight.Service.Access;
using FleetLight.Service.Calculations;
using FleetLight.Service.Hosting;
using FleetLight.Service.Limits;

namespace FleetLight.Service.Circuits;

/// <summary>Whether fittings may be added to a recorded circuit.</summary>
internal static class HeadroomEndpoint
{
    /// <summary>Maps it below the circuits.</summary>
    public static void Map(IEndpointRouteBuilder circuits) =>
        circuits.MapPost("/{id}/headroom", AnswerAsync).Needs(Scope.ReadStatus).Limited(CallKind.Calculation)
            .WithSummary("Whether fittings may be added to a recorded circuit, here, on these spare cores")
            .WithDescription(
                "The calculation 'headroom' on the circuit as built, by the settings of its organisation. Cores are held against the record of the "
                + "cable that makes the run: those that carry a circuit, protect, or are held in a joint with another conductor are not spare. Asks "
                + "only; nothing is recorded. Before a cable is opened: isolate, prove dead and follow the local code. Where the record is not enough "
                + "to ask, 409 says what is missing. By hand: on a loop of 350 mA fittings of 1.05 W take 3 V each. A run of 10 m of 1.5 mm² class 5 has "
                + "2 × 10 m × 13.3 mΩ/m = 0.266 Ω at 20 °C (IEC 60228) and by the stated assumptions, at 15 °C and 3.5 % below, 0.252 Ω. Two fittings "
                + "there, and one more at the end of the run's spare cores, read 3 × 3 V + 2 × 0.252 Ω × 0.35 A = 9.176 V at the driver. Units: V DC, W, "
                + "A, m, mm², %. Limits: "
                + $"{CalculationLimits.MostAdded} fittings to add.")
            .Accepts<CircuitHeadroomRequest>("application/json")
            .Produces<HeadroomAnswer>().ProducesProblems(400, 401, 403, 404, 409, 413, 415, 429);

    private static async Task<IResult> AnswerAsync(
        string id, HttpRequest request, Caller caller, CircuitHistory history, CurrentCircuits circuits, CalculationDesk desk, CancellationToken cancel)
    {
        var (body, problem) = await CalculationDesk.ReadBodyAsync(request, cancel);
        if (problem is not null) return Problems.Result(problem);
        (var asked, problem) = RequestReader.Read<CircuitHeadroomRequest>(body);
        if (asked is null) return Problems.Result(problem!);
        var (found, cables) = await TimeLimit.RunAsync(
            TimeLimit.Answer,
            async limited => (await circuits.FindAsync(caller.Organisation, id, limited), await history.RunCablesAsync(caller.Organisation, id, limited)), cancel);
        if (found is null) return Problems.Result(Problems.NotFound("circuit", id));
        var isHeavy = found.Basis.Model is { } model && HeadroomCalculation.IsHeavy(model.Fittings.Length + model.Runs.Length + asked.Add.Length);
        return await desk.RunAsync(new CalculationWork(isHeavy, () => Run(found.Basis, cables, asked)), request, caller, cancel);
    }

    private static (object? Answer, Problem? Problem) Run(CircuitBasis basis, IReadOnlyList<RunCable> cables, CircuitHeadroomRequest asked)
    {
        var (answer, wrong) = CircuitHeadroom.Answer(basis, cables, asked);
        return (answer, wrong is null ? null : ProblemOf(wrong));
    }

    private static Problem ProblemOf(FactProblem wrong) => wrong.Field.StartsWith(CircuitHeadroom.Circuit, StringComparison.Ordinal)
        ? Problems.Conflict(wrong.Detail, wrong.Remedy)
        : RequestReader.ProblemOf(wrong);
}
