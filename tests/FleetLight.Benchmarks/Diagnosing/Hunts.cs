using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>
/// Sets the ways of choosing the next reading against one another, on faults that are as common as the catalogue says.
/// </summary>
internal static class Hunts
{
    private const int MostFittings = 20;

    private static readonly ImmutableArray<MeasuredQuantity> First =
        [MeasuredQuantity.VoltsDc, MeasuredQuantity.Milliamps];

    // Somebody called: that nothing is wrong is as likely as one common fault.
    private static readonly MeasuringOptions Called = MeasuringOptions.Default with
    {
        Diagnosis = DiagnosisOptions.Default with
        {
            Priors = ImmutableDictionary<FaultKind, double>.Empty.Add(FaultKind.AsDesigned, 0.02),
        },
    };

    /// <summary>All ways on one circuit, in the order of <see cref="Way"/>.</summary>
    /// <param name="seed">The seed that replays it.</param>
    /// <param name="differ">Whether it takes more to get at some boxes than at others.</param>
    public static HuntResult[] Run(int seed, bool differ)
    {
        var chance = new Chance(seed);
        while (true)
        {
            var drive = chance.Pick([DriveKind.ConstantCurrent, DriveKind.ConstantVoltage]);
            var design = Designs.Draw(chance, drive, MostFittings);
            var plan = CircuitPlan.TryLay(design, null, out _)
                ?? throw new InvalidOperationException("A drawn design cannot be laid out.");
            var suspects = Suspects.Of(design, DiagnosisOptions.Default, First, Suspects.Stated);
            suspects.RemoveAll(s => s.Kind == FaultKind.AsDesigned || s.Reading >= 0);
            var truth = suspects[chance.Weighted(suspects.ConvertAll(s => s.Weight))];
            var changes = truth.ChangesAt(chance.Share());
            var places = Places(chance, design, differ);
            var hunted = chance.Next(int.MaxValue);
            if (new Nature(plan, new Chance(hunted), true).Solve(changes) is null) continue;
            var hunt = new Hunt(plan, truth, changes, hunted);
            return [.. Enum.GetValues<Way>().Select(way => hunt.Run(way, places, Called))];
        }
    }

    private static ImmutableArray<MeasuringPlace> Places(Chance chance, CircuitModel design, bool differ)
    {
        var fittings = design.Fittings.Select(f => f.Id).ToHashSet();
        var places = ImmutableArray.CreateBuilder<MeasuringPlace>();
        places.Add(new MeasuringPlace(CircuitModel.DriverNode, PlaceAccess.AtHand));
        foreach (var run in design.Runs)
        {
            places.Add(new MeasuringPlace(
                run.To,
                !differ ? PlaceAccess.OpenToReach
                : fittings.Contains(run.To) ? PlaceAccess.Fitting
                : chance.Next(2) == 0 ? PlaceAccess.OpenToReach
                : PlaceAccess.NeedsDigging));
        }

        return places.ToImmutable();
    }
}
