using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>One fault in one place of a circuit, as the generator knows it.</summary>
/// <param name="Kind">What kind of fault.</param>
/// <param name="Place">Where: the ids of fittings, run or node; empty where it is about none.</param>
/// <param name="Variant">What tells it from other cases of the same kind and place.</param>
/// <param name="Weight">Its probability before anything is measured.</param>
/// <param name="ChangesAt">How the circuit differs, at the share of the free figure's prior that lies below it.</param>
/// <param name="IsFree">Whether there is a free figure.</param>
internal sealed record Suspect(
    FaultKind Kind, string Place, string Variant, double Weight,
    Func<double, ImmutableArray<CircuitChange>> ChangesAt, bool IsFree)
{
    /// <summary>For a slip of the meter: the reading that it touches; −1 for all of its quantity.</summary>
    public int Reading { get; init; } = -1;
}

/// <summary>Lists all faults of the catalogue on a circuit, each fitting, run and node on its own.</summary>
internal static class Suspects
{
    /// <summary>The priors with which every kind of fault is as common as every other.</summary>
    public static double Even(FaultDefinition definition) => 1;

    /// <summary>What a diagnosis is told where every kind of fault is as common as every other.</summary>
    public static DiagnosisOptions EvenOptions { get; } = DiagnosisOptions.Default with
    {
        Priors = FaultCatalogue.Default.Where(d => d.Kind != FaultKind.NoneOfThese)
            .ToImmutableDictionary(d => d.Kind, _ => 1 / 32.0),
    };

    /// <summary>The priors of the catalogue.</summary>
    public static double Stated(FaultDefinition definition) => definition.Prior;

    /// <summary>All of them; the weights sum to 1.</summary>
    public static List<Suspect> Of(
        CircuitModel model, DiagnosisOptions options, ImmutableArray<MeasuredQuantity> quantities,
        Func<FaultDefinition, double> prior)
    {
        var scope = Scope(model, options, quantities);
        var all = new List<Suspect>();
        foreach (var definition in FaultCatalogue.Default)
        {
            if (definition.Kind == FaultKind.NoneOfThese || !definition.Drives.Contains(model.Drive)) continue;
            List<Suspect> cases = definition.Kind == FaultKind.TwoFittingsOfOtherWattage
                ? [.. Pairs(scope)]
                : [.. definition.Cases(scope).Select(one => Of(definition.Kind, one, scope))];
            if (cases.Count == 0)
                throw new InvalidOperationException($"The generator knows no case of {definition.Kind}.");
            var shares = cases.Sum(one => one.Weight);
            all.AddRange(cases.Select(c => c with { Weight = c.Weight / shares * prior(definition) }));
        }

        var total = all.Sum(one => one.Weight);
        return all.ConvertAll(one => one with { Weight = one.Weight / total });
    }

    private static FaultScope Scope(
        CircuitModel model, DiagnosisOptions options, ImmutableArray<MeasuredQuantity> quantities)
    {
        ImmutableArray<string> nodes =
        [
            .. model.Runs.SelectMany(run => new[] { run.From, run.To }).Prepend(CircuitModel.DriverNode).Distinct(),
        ];
        return new FaultScope(model, options, nodes)
        {
            Wattages =
            [
                .. options.CatalogueWatts.Concat(model.Fittings.Select(f => f.RatedWatts)).Distinct().Order(),
            ],
            Fittings = Alone(0, model.Fittings.Length),
            FittingsAsShorts = Alone(0, model.Fittings.Length),
            RunPlaces = Alone(-1, model.Runs.Length + 1),
            Cables = Alone(0, model.Runs.Length),
            LeakNodes = Alone(0, nodes.Length),
            LoadNodes = model.Drive == DriveKind.ConstantCurrent ? [] : Alone(1, nodes.Length - 1),
            Quantities = [.. quantities.Distinct()],
            QuantityOfReading = quantities,
        };
    }

    private static ImmutableArray<Alike> Alone(int first, int count) =>
        [.. Enumerable.Range(first, count).Select(i => new Alike(i, [i]))];

    private static Suspect Of(FaultKind kind, FaultCase one, FaultScope scope)
    {
        var names = one.Fittings.OrEmpty().Select(i => scope.Model.Fittings[i].Id)
            .Concat(one.Runs.OrEmpty().Where(i => i >= 0).Select(i => scope.Model.Runs[i].Id))
            .Concat(one.Nodes.OrEmpty());
        return new Suspect(
            kind, string.Join('+', names), one.Variant, one.Share,
            share => one.Free is { } free ? free.ChangesAt(free.At(share)) : one.Changes, one.Free is not null)
        {
            Reading = one.Reading,
        };
    }

    private static IEnumerable<Suspect> Pairs(FaultScope scope)
    {
        var fittings = scope.Model.Fittings;
        for (var a = 0; a < fittings.Length; a++)
        {
            for (var b = a + 1; b < fittings.Length; b++)
            {
                var place = $"{fittings[a].Id}+{fittings[b].Id}";
                foreach (var one in scope.Wattages.Where(w => w != fittings[a].RatedWatts))
                {
                    foreach (var other in scope.Wattages.Where(w => w != fittings[b].RatedWatts))
                    {
                        ImmutableArray<CircuitChange> changes =
                            [new FittingHasWatts(a, one), new FittingHasWatts(b, other)];
                        yield return new Suspect(
                            FaultKind.TwoFittingsOfOtherWattage, place, "", 1, _ => changes, false);
                    }
                }
            }
        }
    }
}
