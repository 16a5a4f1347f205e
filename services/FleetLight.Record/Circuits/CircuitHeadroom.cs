using FleetLight.Contracts.Calculations;
using FleetLight.Contracts.Calculations.Answers;
using FleetLight.Contracts.Calculations.Requests;
using FleetLight.Record.Calculations;
using FleetLight.Record.Checks;

namespace FleetLight.Record.Circuits;

/// <summary>Whether fittings may be added to a recorded circuit: the calculation, asked with what is recorded.</summary>
public static class CircuitHeadroom
{
    /// <summary>Where a problem begins with this, it is the record that cannot be asked about, and not the question.</summary>
    public const string Circuit = "circuit";

    private const int Pair = 2;

    /// <summary>The answer, or what is wrong with the question or the record.</summary>
    /// <param name="basis">The circuit.</param>
    /// <param name="cables">The cables of its runs.</param>
    /// <param name="asked">The question, as <see cref="RequestCheck"/> finds it sound.</param>
    public static Calculated<HeadroomAnswer> Answer(
        CircuitBasis basis, IReadOnlyList<RunCable> cables, CircuitHeadroomRequest asked)
    {
        ArgumentNullException.ThrowIfNull(basis);
        ArgumentNullException.ThrowIfNull(asked);
        if (basis.Model is not { } model)
            return new FactProblem(Circuit, FactProblemKind.Invalid, ReadingJudge.NoDesign, "Record the circuit's design first.");
        var byRun = cables.ToDictionary(cable => cable.RunId, StringComparer.Ordinal);
        var spare = asked.Where.Spare ?? [];
        for (var i = 0; i < spare.Length; i++)
            if (Unknown(byRun, spare[i], i) is { } unknown) return unknown;
        var judging = basis.Judging ?? Judging.Default;
        var (answer, wrong) = CalculateHeadroom.Answer(new HeadroomRequest
        {
            Circuit = AsRequested.Circuit(model),
            Assumptions = AsRequested.Assumed(judging.Assumptions),
            Add = asked.Add,
            Where = new WhereInput
            {
                Place = basis.BoxAliases?.GetValueOrDefault(asked.Where.Place) ?? asked.Where.Place,
                SpareRunIds = [.. spare.Select(each => each.RunId)],
                NewRun = asked.Where.NewRun,
            },
            SpareCores = [.. cables.Select(cable => new SpareCoresInput { RunId = cable.RunId, Count = Count(cable, spare) })],
            Limits = asked.Limits?.CatalogueWatts is null && judging.Settings.CatalogueWatts is { } watts
                ? (asked.Limits ?? new HeadroomLimitsInput()) with { CatalogueWatts = watts }
                : asked.Limits,
        });
        return wrong is { } problem ? problem with { Field = FieldOf(problem.Field) } : Named(answer!, byRun, spare);
    }

    private static FactProblem? Unknown(Dictionary<string, RunCable> byRun, SpareOfRunInput spare, int index)
    {
        if (spare.Cores is not { } cores || !byRun.TryGetValue(spare.RunId, out var cable)) return null;
        for (var i = 0; i < cores.Length; i++)
        {
            if (Find(cable, cores[i]) is not null && Array.IndexOf(cores, cores[i]) == i) continue;
            return new FactProblem(
                $"where.spare[{index}].cores[{i}]",
                FactProblemKind.Invalid,
                Find(cable, cores[i]) is null
                    ? $"Cable {cable.CableId}, which makes run {cable.RunId}, has no core '{cores[i]}'."
                    : $"Core '{cores[i]}' is named twice.",
                $"Name two of its cores: {string.Join(", ", cable.Cores.Select(core => $"'{core.Core}'"))}.");
        }

        return null;
    }

    // Where cores are named, those count and no others of the cable.
    private static int Count(RunCable cable, SpareOfRunInput[] spare) =>
        Array.Find(spare, each => each.RunId == cable.RunId) is { Cores: { } cores }
            ? cores.Count(core => Find(cable, core) is { TakenBy: null })
            : cable.SpareCores;

    private static RunCore? Find(RunCable cable, string core) => cable.Cores.FirstOrDefault(each => each.Core == core);

    // The calculation knows numbers of cores only; here it is known which core is used for what.
    private static HeadroomAnswer Named(HeadroomAnswer answer, Dictionary<string, RunCable> byRun, SpareOfRunInput[] spare)
    {
        var reasons = answer.Reasons.ToArray();
        var text = answer.Text;
        for (var i = 0; i < reasons.Length; i++)
        {
            if (reasons[i].Limit != AddingLimit.SpareCores || !byRun.TryGetValue(reasons[i].Place, out var cable)) continue;
            var says = Says(cable, Array.Find(spare, each => each.RunId == cable.RunId)?.Cores);
            text = text.Replace(reasons[i].Text, says, StringComparison.Ordinal);
            reasons[i] = reasons[i] with { Text = says };
        }

        return answer with { Reasons = reasons, Text = text };
    }

    private static string Says(RunCable cable, string[]? named)
    {
        var taken = cable.Cores
            .Where(core => core.TakenBy is not null && (named is null || named.Contains(core.Core)))
            .Select(core => $"core '{core.Core}' {core.TakenBy}");
        return $"Of cable {cable.CableId}, which makes run {cable.RunId}, {string.Join(", ", taken)}; "
            + $"{Pair} spare cores are needed, out and back.";
    }

    private static string FieldOf(string field) => field.StartsWith("where.spareRunIds[", StringComparison.Ordinal)
        ? field.Replace("spareRunIds", "spare", StringComparison.Ordinal) + ".runId"
        : field;
}
