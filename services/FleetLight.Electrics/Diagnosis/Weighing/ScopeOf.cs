using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Makes the scope in which faults list their cases.</summary>
internal static class ScopeOf
{
    private const int MostWattages = 64;

    // A leak or touch is told apart by a resistance that matters in a circuit of some ten volts and some hundred milliamps.
    private const double ProbeLeakOhms = 50;
    private const double ProbeJointOhmsSeries = 20;
    private const double ProbeJointOhmsParallel = 1;

    public static FaultScope Circuit(
        CircuitPlan plan, DiagnosisOptions options, Evidence evidence, AlikePlaces alike)
    {
        var model = plan.Model;
        var names = NodeNames(model);
        var (fittings, runs) = (model.Fittings, model.Runs);
        var series = model.Drive == DriveKind.ConstantCurrent;
        var joint = series ? ProbeJointOhmsSeries : ProbeJointOhmsParallel;
        var places = alike.Gather(
            [.. Enumerable.Range(-1, runs.Length + 1)], run => new RunJointOhms(run, joint), (_, _) => true);
        return new FaultScope(model, options, names)
        {
            Wattages = Wattages(model, options),
            Fittings = alike.Gather(
                [.. Enumerable.Range(0, fittings.Length)],
                fitting => series ? new FittingBypassed(fitting, 0) : new FittingOpen(fitting),
                (one, other) => fittings[one] with { Id = "" } == fittings[other] with { Id = "" }),
            RunPlaces = places,
            Cables = [.. places.SelectMany(place => place.All.Where(run => run >= 0)
                .GroupBy(run => runs[run] with { Id = "", From = "", To = "" })
                .Select(same => new Alike(same.First(), [.. same])))],
            Nodes = alike.Gather(
                [.. Enumerable.Range(0, names.Length)],
                node => new CoresBridged(names[node], ProbeLeakOhms), (_, _) => true),
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
