using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>
/// Takes apart what a diagnosis has gathered: places that the readings so far cannot tell apart are one hypothesis
/// there, and a reading to come may well tell them apart.
/// </summary>
internal static class PlaceByPlace
{
    /// <summary>The hypotheses at this probability and above, each at one place, likeliest first; a place with each step.</summary>
    /// <param name="circuit">The weighed circuit.</param>
    /// <param name="least">Least probability.</param>
    /// <param name="most">The most that are returned.</param>
    /// <returns>Null for every step but the last.</returns>
    public static IEnumerable<WeighedHypothesis[]?> Of(WeighedCircuit circuit, double least, int most)
    {
        var all = new List<WeighedHypothesis>();
        foreach (var one in circuit.Hypotheses.Where(one => one.Probability >= least).SelectMany(one => Places(circuit.Plan, one)))
        {
            all.Add(one);
            yield return null;
        }

        yield return [.. all.OrderByDescending(one => one.Probability).Take(most)];
    }

    private static IEnumerable<WeighedHypothesis> Places(CircuitPlan plan, WeighedHypothesis one)
    {
        var (fittings, runs, nodes) = (one.Case.Fittings.OrEmpty(), one.Case.Runs.OrEmpty(), one.Case.Nodes.OrEmpty());
        var count = Math.Max(fittings.Length, Math.Max(runs.Length, nodes.Length));
        // Of a pair both are meant.
        if (count < 2 || one.Kind == FaultKind.TwoFittingsOfOtherWattage) return [one];
        return Enumerable.Range(0, count).Select(i => At(
            plan, one, count,
            one.Case with
            {
                Fittings = fittings.Length > 1 ? [fittings[i]] : fittings,
                Runs = runs.Length > 1 ? [runs[i]] : runs,
                Nodes = nodes.Length > 1 ? [nodes[i]] : nodes,
            }));
    }

    // The readings so far are the same at every one of the places, so what is made of them stays.
    private static WeighedHypothesis At(CircuitPlan plan, WeighedHypothesis one, int count, FaultCase place)
    {
        var changes = Moved(one.Changes, place);
        var beside = one.Beside is not null && one.Case.Free is { } free
            ? plan.Solve(Moved(free.ChangesAt(one.FigureBeside), place), [])
            : null;
        return new WeighedHypothesis
        {
            Definition = one.Definition,
            Case = place,
            LogWeight = one.LogWeight - Math.Log(count),
            Changes = changes,
            Figure = one.Figure,
            FigureBeside = one.FigureBeside,
            SlipRow = one.SlipRow,
            Probability = one.Probability / count,
            State = plan.Solve(changes, []) ?? one.State,
            Beside = beside ?? one.Beside,
            Seen = one.Seen,
            SeenBeside = one.SeenBeside,
            Explanation = one.Explanation,
            Group = one.Group,
        };
    }

    private static ImmutableArray<CircuitChange> Moved(ImmutableArray<CircuitChange> changes, FaultCase place)
    {
        CircuitChange At(CircuitChange change) => (change, place) switch
        {
            (FittingHasWatts c, { Fittings: [var at] }) => c with { Fitting = at },
            (FittingBypassed c, { Fittings: [var at] }) => c with { Fitting = at },
            (FittingOpen c, { Fittings: [var at] }) => c with { Fitting = at },
            (FittingForOtherDrive c, { Fittings: [var at] }) => c with { Fitting = at },
            (RunOpen c, { Runs: [var at] }) => c with { Run = at },
            (RunJointOhms c, { Runs: [var at] }) => c with { Run = at },
            (RunLengthFactor c, { Runs: [var at] }) => c with { Run = at },
            (RunHasArea c, { Runs: [var at] }) => c with { Run = at },
            (CoresBridged c, { Nodes: [var at] }) => c with { Node = at },
            (FittingAdded c, { Nodes: [var at] }) => c with { Node = at },
            _ => change,
        };

        return [.. changes.OrEmpty().Select(At)];
    }
}
