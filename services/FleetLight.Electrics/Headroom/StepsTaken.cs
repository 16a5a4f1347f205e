namespace FleetLight.Electrics;

/// <summary>A question after steps that change what is asked.</summary>
internal static class StepsTaken
{
    /// <summary>The question after one step.</summary>
    public static HeadroomQuestion After(HeadroomQuestion question, ProposedStep step) => step.Kind switch
    {
        StepKind.OtherWatts => question with
        {
            Fittings = [.. question.Fittings.Select(f =>
                f.RatedWatts > step.Watts ? f with { RatedWatts = step.Watts.Value } : f)],
        },
        StepKind.FewerFittings => question with { Fittings = [.. question.Fittings.Take(step.FittingsLeft ?? 1)] },
        StepKind.LargerNewRun when question.Where.Run is { } run => question with
        {
            Where = question.Where with
            {
                Run = run with { AreaSquareMillimetres = step.AreaSquareMillimetres ?? run.AreaSquareMillimetres },
            },
        },
        StepKind.NearerNode => question with { Where = Nearer(question, step.Node!) },
        StepKind.SpareCoresInParallel =>
            Changed(question, step.RunId, run => run with { LengthMetres = run.LengthMetres / 2 }),
        StepKind.LargerExistingRun => Changed(
            question, step.RunId,
            run => run with { AreaSquareMillimetres = step.AreaSquareMillimetres ?? run.AreaSquareMillimetres }),
        StepKind.LargerDriver when step.Driver is { } needed => question with
        {
            Circuit = question.Circuit with { Driver = With(question.Circuit.Driver, needed) },
        },
        _ => question,
    };

    // What another driver shows at its open output is not known; its greatest volts stand in for it.
    private static DriverModel With(DriverModel driver, DriverNeeded needed) => driver with
    {
        MostVolts = needed.MostVolts ?? driver.MostVolts,
        MostWatts = needed.MostWatts ?? driver.MostWatts,
        MostAmps = needed.MostAmps ?? driver.MostAmps,
        LeastVolts = needed.LeastVolts ?? driver.LeastVolts,
        OpenCircuitVolts = needed.MostVolts is null ? driver.OpenCircuitVolts : null,
    };

    private static HeadroomQuestion Changed(HeadroomQuestion question, string? id, Func<RunModel, RunModel> change) =>
        question with
        {
            Circuit = question.Circuit with
            {
                Runs = [.. question.Circuit.Runs.OrEmpty().Select(run => run.Id == id ? change(run) : run)],
            },
        };

    // On spare cores the way is cut short at the node; otherwise the node is another.
    private static AddedWhere Nearer(HeadroomQuestion question, string node)
    {
        var (where, place) = (question.Where, question.Where.Node);
        var path = where.SpareRunIds.OrEmpty();
        if (path.IsEmpty) return where with { Node = node };
        var kept = 0;
        while (place != node && kept < path.Length)
            place = AlteredCircuit.FarEnd(AlteredCircuit.Find(question.Circuit, path[kept++])!, place);
        return where with { SpareRunIds = path[..kept] };
    }
}
