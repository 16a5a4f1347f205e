using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Record.Works;

namespace FleetLight.Record.Materials;

/// <summary>
/// Where the joints of a circuit lie by its design. A fitting at the end of a run from a box has that run as its lead: its joint lies
/// in the box. Any other fitting on a run needs a box beside it, for no joint sits under a fitting.
/// </summary>
internal sealed class DesignPlaces
{
    private readonly CircuitDesigned design;
    private readonly Dictionary<string, List<RunDesign>> at = new(StringComparer.Ordinal);
    private readonly HashSet<string> fittings;

    public DesignPlaces(CircuitDesigned design)
    {
        this.design = design;
        fittings = design.Fittings.Select(fitting => fitting.FittingId).ToHashSet(StringComparer.Ordinal);
        foreach (var run in design.Runs)
        {
            Put(run.From, run);
            Put(run.To, run);
        }
    }

    /// <summary>The run that is the lead of a fitting, and the box at its other end.</summary>
    public (RunDesign Run, string Box)? LeadOf(string fitting)
    {
        if (!at.TryGetValue(fitting, out var runs) || runs.Count != 1) return null;
        var other = runs[0].From == fitting ? runs[0].To : runs[0].From;
        return IsBox(other) ? (runs[0], other) : null;
    }

    /// <summary>The joints of the circuit: the place, whether it is a box or a fitting that needs one beside it, and what meets there.</summary>
    public IEnumerable<(string Place, bool IsBox, int Entries, JointNeed Joint)> Joints()
    {
        foreach (var (place, runs) in at.OrderBy(pair => pair.Key, StringComparer.Ordinal))
        {
            if (place == Routing.DriverEnd || LeadOf(place) is not null) continue;
            var isFitting = fittings.Contains(place);
            yield return (place, !isFitting, runs.Count + (isFitting ? 1 : 0), new(design.CircuitId, Arrangement, Connectors(runs, isFitting)));
        }
    }

    private JointArrangement Arrangement => design.Drive == DriveKind.ConstantCurrent ? JointArrangement.Series : JointArrangement.Parallel;

    private bool IsBox(string place) => place != Routing.DriverEnd && !fittings.Contains(place);

    // In series each connector passes the current from one conductor to one other. In parallel each of the two poles has a connector
    // that gathers one conductor of every cable and lead.
    private IReadOnlyList<int> Connectors(List<RunDesign> runs, bool isFitting)
    {
        if (Arrangement == JointArrangement.Parallel)
        {
            var gathered = runs.Count + (isFitting ? 1 : 0);
            return gathered < 2 ? [] : [gathered, gathered];
        }

        var conductors = runs.Sum(run => run.ConductorsInLoop ?? 2) + (isFitting ? 2 : 0);
        return [.. Enumerable.Repeat(2, conductors / 2)];
    }

    private void Put(string place, RunDesign run)
    {
        if (!at.TryGetValue(place, out var runs)) at[place] = runs = [];
        runs.Add(run);
    }
}
