using System.Collections.Immutable;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>How one way of choosing the next reading came out on one circuit.</summary>
/// <param name="Readings">How many readings it took after the first look.</param>
/// <param name="Minutes">How long they took.</param>
/// <param name="IsRight">Whether the fault that was put in led in the end.</param>
internal readonly record struct HuntResult(int Readings, double Minutes, bool IsRight);

/// <summary>A way of choosing the next reading.</summary>
internal enum Way
{
    /// <summary>One place after the other, outward from the driver, boxes before fittings.</summary>
    Outward,

    /// <summary>The middle of what is still suspect, whatever it takes to get there.</summary>
    Halving,

    /// <summary>What is expected to tell most per minute.</summary>
    NextMeasurement,
}

/// <summary>
/// Hunts one fault until the diagnosis is sure. All ways begin with volts and current at the driver and a look at the
/// fittings, have the same diagnosis and stop by the same rule; they differ in what they choose to measure.
/// </summary>
internal sealed class Hunt(CircuitPlan plan, Suspect truth, ImmutableArray<CircuitChange> changes, int seed)
{
    private const int MostReadings = 40;

    /// <summary>A suspect below this share of the first is no longer looked for by halving.</summary>
    private const double StillSuspect = 0.02;

    /// <summary>Hunts.</summary>
    public HuntResult Run(Way way, ImmutableArray<MeasuringPlace> places, MeasuringOptions options)
    {
        // The same circuit and meter for every way.
        var nature = new Nature(plan, new Chance(seed), true);
        var state = nature.Solve(changes) ?? throw new InvalidOperationException("The circuit has no operating point.");
        var readings = new List<MeasuredReading>();
        void Read(string place, MeasuredQuantity quantity) =>
            readings.Add(nature.Read(state, changes, truth.Reading, readings.Count, place, quantity));

        foreach (var fitting in plan.Model.Fittings) Read(fitting.Id, MeasuredQuantity.FittingLit);
        Read(CircuitModel.DriverNode, MeasuredQuantity.VoltsDc);
        Read(CircuitModel.DriverNode, MeasuredQuantity.Milliamps);
        double minutes = 0;
        for (var taken = 0; ; taken++)
        {
            var advice = NextMeasurement.Of(plan.Model, readings, places, options);
            var chosen = taken == MostReadings || IsEnough(way, advice) ? null : Choose(way, advice, readings);
            if (chosen is null) return new HuntResult(taken, minutes, IsRight(advice));
            minutes += chosen.EffortMinutes;
            foreach (var place in chosen.Places) Read(place, chosen.Quantity);
            places = [.. places.Select(p => chosen.Places.Contains(p.Id) ? p with { IsOpen = true } : p)];
        }
    }

    private static bool IsEnough(Way way, MeasuringAdvice advice) => advice.Stop is { } stop
        && (way == Way.NextMeasurement || stop.Reason != StopReason.NothingTellsEnough);

    private MeasuringCandidate? Choose(Way way, MeasuringAdvice advice, List<MeasuredReading> readings)
    {
        if (way == Way.NextMeasurement) return advice.Candidates.FirstOrDefault();
        var fresh = advice.Candidates
            .Where(c => !readings.Exists(r => r.Place == c.Places[0] && r.Quantity == c.Quantity)).ToList();
        // Of volts and current at a place what tells more, as one would who knows the trade.
        var places = fresh.Where(c => c.Quantity is MeasuredQuantity.VoltsDc or MeasuredQuantity.Milliamps)
            .Where(c => c.Places[0] != CircuitModel.DriverNode)
            .GroupBy(c => c.Places[0]).Select(at => at.MaxBy(c => c.Bits)!)
            .OrderBy(c => IsVisited(c, readings)).ThenBy(c => PositionOf(c.Places[0])).ToList();
        if (way == Way.Outward)
            return places.Find(c => IsBox(c.Places[0])) ?? places.FirstOrDefault() ?? AtDriver(fresh);
        var suspect = advice.Diagnosis.Explanations
            .Where(e => e.Probability >= StillSuspect * advice.Diagnosis.Explanations[0].Probability)
            .SelectMany(e => e.FittingIds.Concat(e.NodeIds).Concat(e.RunIds.SelectMany(Ends)))
            .Select(PositionOf).Where(at => at >= 0).ToList();
        if (suspect.Count == 0) return AtDriver(fresh) ?? places.FirstOrDefault();
        var (first, last) = (suspect.Min(), suspect.Max());
        return places.Where(c => PositionOf(c.Places[0]) >= first && PositionOf(c.Places[0]) <= last)
            .OrderBy(c => IsVisited(c, readings))
            .ThenBy(c => Math.Abs(PositionOf(c.Places[0]) - ((first + last) / 2.0)))
            .FirstOrDefault() ?? AtDriver(fresh);
    }

    private static bool IsVisited(MeasuringCandidate candidate, List<MeasuredReading> readings) => readings.Exists(
        r => r.Place == candidate.Places[0] && r.Quantity != MeasuredQuantity.FittingLit);

    // The loop's resistance, then the insulation.
    private static MeasuringCandidate? AtDriver(List<MeasuringCandidate> fresh) =>
        fresh.Where(c => c.Quantity is MeasuredQuantity.LoopOhms or MeasuredQuantity.MegohmsInsulation)
            .OrderBy(c => c.Quantity).FirstOrDefault();

    private bool IsRight(MeasuringAdvice advice)
    {
        var group = advice.Diagnosis.Explanations[0].Group;
        return advice.Diagnosis.Explanations
            .Where((e, i) => i == 0 || (advice.Stop?.Reason == StopReason.OneGroup && e.Group == group))
            .Any(e => IsOneDeed(e.Kind, truth.Kind)
                && (truth.Place.Length == 0
                    || truth.Place == string.Join('+', e.FittingIds)
                    || e.FittingIds.Concat(e.RunIds).Concat(e.NodeIds).Contains(truth.Place)));
    }

    // Whoever opens a fitting and its joint finds all of these.
    private static bool IsOneDeed(FaultKind one, FaultKind other) =>
        FaultClasses.Deed(one) == FaultClasses.Deed(other) || (IsAtFitting(one) && IsAtFitting(other));

    private static bool IsAtFitting(FaultKind kind) => kind is FaultKind.ShortBetweenCores or FaultKind.WaterInJoint
        || FaultClasses.Deed(kind) == FaultKind.FittingMissing;

    private bool IsBox(string place) => !plan.Model.Fittings.Any(f => f.Id == place);

    private IEnumerable<string> Ends(string run) =>
        plan.Model.Runs.Where(r => r.Id == run).SelectMany(r => new[] { r.From, r.To });

    // Along the cable as its runs are recorded.
    private int PositionOf(string place)
    {
        if (place == CircuitModel.DriverNode) return 0;
        for (var i = 0; i < plan.Model.Runs.Length; i++)
            if (plan.Model.Runs[i].To == place) return i + 1;
        return -1;
    }
}
