using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Makes the scope in which faults list their cases.</summary>
internal static class ScopeOf
{
    private const int MostWattages = 64;

    // Where a leak is told apart from one elsewhere: by two of its range, for one alone may drive the driver to its limit or
    // show nothing.
    private const double ProbeLeakOhms = 20;
    private const double ProbeSmallLeakOhms = 200;

    private const double ProbeJointOhmsSeries = 20;
    private const double ProbeJointOhmsParallel = 1;

    /// <summary>The scope of a circuit, in small steps.</summary>
    /// <returns>Null for every step but the last.</returns>
    public static IEnumerable<FaultScope?> Circuit(
        CircuitPlan plan, DiagnosisOptions options, Evidence evidence, AlikePlaces alike)
    {
        var model = plan.Model;
        var names = NodeNames(model);
        var (fittings, runs) = (model.Fittings, model.Runs);
        var series = model.Drive == DriveKind.ConstantCurrent;
        int[] eachFitting = [.. Enumerable.Range(0, fittings.Length)];
        int[] eachNode = [.. Enumerable.Range(0, names.Length)];
        bool Any(int one, int other) => true;
        bool OfOneMake(int one, int other) => fittings[one] with { Id = "" } == fittings[other] with { Id = "" };
        var wattages = Wattages(model, options);
        List<Alike> shorts = [], opens = [], places = [], leaks = [], loads = [];
        foreach (var _ in alike.Gather(eachFitting, fitting => [new FittingBypassed(fitting, 0)], OfOneMake, shorts)) yield return null;
        foreach (var _ in alike.Gather(
            [.. Enumerable.Range(-1, runs.Length + 1)],
            run => series
                ? [new RunJointOhms(run, ProbeJointOhmsSeries)]
                : [new RunOpen(run), new RunJointOhms(run, ProbeJointOhmsParallel)],
            Any,
            places)) yield return null;
        foreach (var _ in alike.Gather(
            eachNode,
            node => [new CoresBridged(names[node], ProbeLeakOhms), new CoresBridged(names[node], ProbeSmallLeakOhms)],
            Any,
            leaks)) yield return null;
        // In a series loop the place of another load makes no difference, and a fitting is broken where it is shorted.
        if (!series)
        {
            foreach (var _ in alike.Gather(eachFitting, fitting => [new FittingOpen(fitting)], OfOneMake, opens)) yield return null;
            foreach (var _ in alike.Gather(eachNode[1..], node => [new FittingAdded(names[node], wattages[^1])], Any, loads)) yield return null;
        }

        yield return new FaultScope(model, options, names)
        {
            Wattages = wattages,
            Fittings = [.. series ? shorts : opens],
            FittingsAsShorts = [.. shorts],
            RunPlaces = [.. places],
            Cables = [.. places.SelectMany(place => place.All.Where(run => run >= 0)
                .GroupBy(run => runs[run] with { Id = "", From = "", To = "" })
                .Select(same => new Alike(same.First(), [.. same])))],
            LeakNodes = [.. leaks],
            LoadNodes = [.. loads],
            Quantities = [.. evidence.Used.Select(reading => reading.Quantity).Distinct()],
            QuantityOfReading = [.. evidence.Used.Select(reading => reading.Quantity)],
        };
    }

    private static ImmutableArray<double> Wattages(CircuitModel model, DiagnosisOptions options) =>
    [
        .. options.CatalogueWatts.OrEmpty()
            .Where(CircuitCheck.IsWattage)
            .Concat(model.Fittings.Select(fitting => fitting.RatedWatts))
            .Distinct().Take(MostWattages).Order(),
    ];

    private static ImmutableArray<string> NodeNames(CircuitModel model)
    {
        var names = new List<string>(model.Runs.Length + 1) { CircuitModel.DriverNode };
        var seen = new HashSet<string>(StringComparer.Ordinal) { CircuitModel.DriverNode };
        foreach (var run in model.Runs)
        {
            if (seen.Add(run.From)) names.Add(run.From);
            if (seen.Add(run.To)) names.Add(run.To);
        }

        foreach (var fitting in model.Fittings)
            if (seen.Add(fitting.Id)) names.Add(fitting.Id);
        return [.. names];
    }
}
