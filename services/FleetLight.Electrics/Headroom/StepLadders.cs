using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>One way of changing what is asked, in steps that each do more than the one before.</summary>
/// <param name="RunId">The run that it is about; null where it is about none.</param>
/// <param name="Steps">The steps, each with its cost.</param>
internal sealed record StepLadder(string? RunId, ImmutableArray<(ProposedStep Step, double Cost)> Steps);

/// <summary>The stated list of changes that are tried.</summary>
/// <remarks>
/// Of the runs that lie already, the <see cref="MostRuns"/> that drop the most volts are tried. A node is nearer where
/// it lies on the way of least resistance to the driver, or earlier on the spare cores. Where a series loop has neither
/// spare cores nor a new run that would change, a nearer node makes no difference and is not tried.
/// </remarks>
internal static class StepLadders
{
    /// <summary>How many of the runs that lie already are tried.</summary>
    public const int MostRuns = 6;

    public static List<StepLadder> Of(HeadroomQuestion question, Assessment found, HeadroomOptions options)
    {
        List<StepLadder> ladders = [OtherWatts(question, options), FewerFittings(question, options.Costs)];
        if (question.Where.Run is { } run) ladders.Add(LargerNewRun(run, options.Costs));
        ladders.Add(NearerNode(question, options.Costs));
        foreach (var lying in MostDropping(question.Circuit, found))
        {
            ladders.Add(LargerExistingRun(lying, options.Costs));
            ladders.Add(SpareCoresInParallel(question, lying, options.Costs));
        }

        ladders.RemoveAll(ladder => ladder.Steps.IsEmpty);
        return ladders;
    }

    /// <summary>The step to a driver with the limits needed.</summary>
    public static ProposedStep Driver(CircuitModel circuit, DriverNeeded needed)
    {
        var kind = circuit.Drive == DriveKind.ConstantCurrent
            ? $"{Plain.Figure(circuit.Driver.RatedMilliamps ?? 0)} mA"
            : $"{Plain.Figure(circuit.Driver.RatedVolts ?? 0)} V";
        List<string> asked = [];
        if (needed.MostVolts is { } volts) asked.Add($"at least {Plain.Figure(volts)} V");
        if (needed.MostWatts is { } watts) asked.Add($"at least {Plain.Figure(watts)} W");
        if (needed.MostAmps is { } amps) asked.Add($"at least {Plain.Figure(amps)} A");
        if (needed.LeastVolts is { } least) asked.Add($"regulation from {Plain.Figure(least)} V or below");
        return new ProposedStep(StepKind.LargerDriver, $"Use a driver of {kind} with {string.Join(", ", asked)}.")
        {
            Driver = needed,
        };
    }

    private static StepLadder OtherWatts(HeadroomQuestion question, HeadroomOptions options)
    {
        var most = question.Fittings.Max(f => f.RatedWatts);
        return new StepLadder(null,
        [
            .. options.CatalogueWatts.OrEmpty()
                .Where(watts => CircuitCheck.IsWattage(watts) && watts < most)
                .Distinct().OrderDescending()
                .Select(watts => (
                    new ProposedStep(
                        StepKind.OtherWatts, $"Add fittings of {Plain.Figure(watts)} W instead.") { Watts = watts },
                    options.Costs.OtherWatts)),
        ]);
    }

    private static StepLadder FewerFittings(HeadroomQuestion question, ChangeCosts costs)
    {
        var all = question.Fittings.Length;
        return new StepLadder(null,
        [
            .. Enumerable.Range(1, all - 1).Select(less => (
                new ProposedStep(StepKind.FewerFittings, $"Leave out {less} of the {all} fittings.")
                {
                    FittingsLeft = all - less,
                },
                less * costs.FewerFittingsEach)),
        ]);
    }

    private static StepLadder LargerNewRun(NewRun run, ChangeCosts costs) => new(null,
    [
        .. Larger(run.AreaSquareMillimetres).Select((area, i) => (
            new ProposedStep(StepKind.LargerNewRun, $"Lay the new run in {Plain.Figure(area)} mm².")
            {
                AreaSquareMillimetres = area,
            },
            (i + 1) * costs.LargerNewRunPerStep)),
    ]);

    private static StepLadder LargerExistingRun(RunModel run, ChangeCosts costs) => new(run.Id,
    [
        .. Larger(run.AreaSquareMillimetres).Select((area, i) => (
            new ProposedStep(StepKind.LargerExistingRun, $"Pull run {run.Id} again in {Plain.Figure(area)} mm².")
            {
                RunId = run.Id,
                AreaSquareMillimetres = area,
            },
            costs.LargerExistingRun + ((i + 1) * costs.LargerExistingRunPerStep))),
    ]);

    private static StepLadder SpareCoresInParallel(HeadroomQuestion question, RunModel run, ChangeCosts costs)
    {
        var used = question.Where.SpareRunIds.OrEmpty().Contains(run.Id);
        return new StepLadder(run.Id, used || !(SpareCheck.CountOf(question, run.Id) >= run.ConductorsInLoop)
            ? []
            :
            [
                (new ProposedStep(
                    StepKind.SpareCoresInParallel, $"Join the spare cores of run {run.Id} in parallel with it.")
                    { RunId = run.Id },
                    costs.SpareCoresInParallel),
            ]);
    }

    private static StepLadder NearerNode(HeadroomQuestion question, ChangeCosts costs)
    {
        var spare = question.Where.SpareRunIds.OrEmpty();
        if (spare.IsEmpty && question.Circuit.Drive == DriveKind.ConstantCurrent) return new StepLadder(null, []);
        var nodes = spare.IsEmpty
            ? WayToDriver.From(question.Circuit, question.Where.Node)
            : EarlierOnSpareCores(question);
        var begins = question.Where.Run is null ? "Hang the fittings at" : "Begin the new run at";
        return new StepLadder(null,
        [
            .. nodes.Select((node, i) => (
                new ProposedStep(StepKind.NearerNode, $"{begins} {node}.") { Node = node },
                (i + 1) * costs.NearerNode)),
        ]);
    }

    private static List<string> EarlierOnSpareCores(HeadroomQuestion question)
    {
        List<string> nodes = [question.Where.Node];
        foreach (var id in question.Where.SpareRunIds[..^1])
            nodes.Add(AlteredCircuit.FarEnd(AlteredCircuit.Find(question.Circuit, id)!, nodes[^1]));
        nodes.Reverse();
        return nodes;
    }

    private static IEnumerable<double> Larger(double area) =>
        ConductorResistance.StandardAreasSquareMillimetres.Where(larger => larger > area);

    // By the volts that each drops; by its resistance where the circuit has no operating point.
    private static IEnumerable<RunModel> MostDropping(CircuitModel circuit, Assessment found)
    {
        var runs = circuit.Runs.OrEmpty();
        var amps = found.Readings is { } readings ? RunCurrents.Of(found.Model, readings) : null;
        return runs
            .Select((run, i) => (Run: run, Drop: WayToDriver.Ohms(run) * (amps is null ? 1 : amps[i])))
            .Where(pair => pair.Drop > 0)
            .OrderByDescending(pair => pair.Drop)
            .Take(MostRuns)
            .Select(pair => pair.Run);
    }
}
