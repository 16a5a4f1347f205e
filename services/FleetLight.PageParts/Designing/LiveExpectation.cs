using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;
using FleetLight.Record.Circuits;

namespace FleetLight.PageParts.Designing;

/// <summary>What a design should read, worked out where it is written.</summary>
/// <param name="Answer">The figures; none where the design cannot be worked out.</param>
/// <param name="Problems">What hinders that, at the fields of the sheet.</param>
public sealed record LiveExpectation(ExpectedAnswer? Answer, IReadOnlyList<SheetProblem> Problems)
{
    /// <summary>What the design should read: the figures of the service's calculation <c>expected</c>.</summary>
    /// <param name="design">The design.</param>
    /// <param name="assumed">What the organisation assumes; the stated defaults where absent.</param>
    /// <param name="cables">Recorded cables that its runs may name.</param>
    /// <param name="boxes">Recorded boxes that its runs may name.</param>
    public static LiveExpectation Of(
        CircuitDesigned design, AssumptionsInput? assumed = null, IReadOnlyList<CableView>? cables = null, IReadOnlyList<BoxView>? boxes = null)
    {
        var request = new ExpectedRequest { Circuit = DesignedCircuit.Of(design, cables, boxes), Assumptions = assumed };
        if (RequestCheck.Check(request) is { Count: > 0 } wrong) return new LiveExpectation(null, [.. wrong.Select(OnSheet)]);
        var (answer, problem) = CalculateExpected.Answer(request);
        return new LiveExpectation(answer, problem is null ? [] : [OnSheet(problem)]);
    }

    private static SheetProblem OnSheet(FactProblem problem)
    {
        const string root = "circuit.";
        var path = problem.Field.StartsWith(root, StringComparison.Ordinal) ? problem.Field[root.Length..] : problem.Field;
        return new SheetProblem(path, problem.Detail, problem.Remedy);
    }
}
