using System.Collections.Immutable;
using FleetLight.Contracts;
using FleetLight.Electrics;

namespace FleetLight.Benchmarks.Diagnosing;

/// <summary>What one circuit came to.</summary>
/// <param name="Kind">The fault that was put in.</param>
/// <param name="Answered">
/// What the diagnosis named first; the fault put in where it named one of the same class.
/// </param>
/// <param name="Top1">Whether the diagnosis named it first; a share where several are level.</param>
/// <param name="Top3">Whether it was among the first three.</param>
/// <param name="Best1">The same of the optimal classifier.</param>
/// <param name="Best3">The same of the optimal classifier.</param>
/// <param name="IsDistinguishable">
/// Whether the optimal classifier would give it over nine tenths, were all parts at their best estimate and the meter
/// exact.
/// </param>
internal sealed record Trial(
    FaultKind Kind, FaultKind Answered, double Top1, double Top3, double Best1, double Best3, bool IsDistinguishable)
{
    /// <summary>The probability that the diagnosis gives what it names first.</summary>
    public double Sure { get; init; }

    /// <summary>The same of the optimal classifier.</summary>
    public double BestSure { get; init; }
}

/// <summary>Puts a fault into a circuit, reads it, and asks the diagnosis and the optimal classifier.</summary>
internal static class Trials
{
    private const double Distinguishable = 0.9;
    private const double Level = 1e-9;

    /// <summary>One trial.</summary>
    /// <param name="seed">The seed that replays it.</param>
    /// <param name="most">The most fittings.</param>
    /// <param name="asStated">Whether tolerances are spread as stated; otherwise all are normal.</param>
    /// <param name="options">What the diagnosis looks for.</param>
    /// <param name="prior">How common each fault is; the diagnosis is told the same.</param>
    /// <param name="healthy">Whether no fault is put in.</param>
    public static Trial Run(
        int seed, int most, bool asStated, DiagnosisOptions options, Func<FaultDefinition, double> prior,
        bool healthy = false)
    {
        var chance = new Chance(seed);
        while (true)
        {
            var drive = chance.Pick([DriveKind.ConstantCurrent, DriveKind.ConstantVoltage]);
            var design = Designs.Draw(chance, drive, most);
            var plan = CircuitPlan.TryLay(design, null, out _)
                ?? throw new InvalidOperationException("A drawn design cannot be laid out.");
            var asked = Rounds.Draw(chance, plan);
            var suspects = Suspects.Of(design, options, [.. asked.Select(a => a.Quantity)], prior);
            // Every kind is put in as often as every other, whatever its prior.
            var kind = healthy
                ? FaultKind.AsDesigned
                : chance.Pick<FaultKind>([.. suspects.Select(s => s.Kind).Distinct()]);
            var ofKind = suspects.FindAll(s => s.Kind == kind);
            var truth = ofKind[chance.Weighted(ofKind.ConvertAll(s => s.Weight))];
            var changes = truth.ChangesAt(chance.Share());
            var nature = new Nature(plan, chance, asStated);
            if (nature.Solve(changes) is not { } state || plan.Solve(changes, []) is not { } nominal) continue;
            // What shows no figure, such as the resistance of an open loop, is not written down.
            var shown = asked.RemoveAll(a => a.Quantity != MeasuredQuantity.FittingLit
                && !double.IsFinite(Meter.Shown(plan, state, a.Place, a.Quantity, changes, false, [])));
            if (shown.Length < asked.Length && truth.Reading >= 0) continue;
            return Judge(plan, options, shown, suspects, truth, changes, nature, state, nominal);
        }
    }

    private static Trial Judge(
        CircuitPlan plan, DiagnosisOptions options, ImmutableArray<(string Place, MeasuredQuantity Quantity)> asked,
        List<Suspect> suspects, Suspect truth, ImmutableArray<CircuitChange> changes, Nature nature,
        ICircuitState state, ICircuitState nominal)
    {
        MeasuredReading[] readings =
            [.. asked.Select((a, r) => nature.Read(state, changes, truth.Reading, r, a.Place, a.Quantity))];
        MeasuredReading[] exact =
        [
            .. asked.Select((a, r) => new MeasuredReading(a.Place, a.Quantity, a.Quantity == MeasuredQuantity.FittingLit
                ? Math.Round(Meter.Lit(plan, nominal, a.Place))
                : Meter.Shown(
                    plan, nominal, a.Place, a.Quantity, changes, truth.Reading < 0 || truth.Reading == r, []))),
        ];
        var classes = new Classes(plan, suspects, asked);
        var right = classes.Of(truth.Kind, truth.Place);
        var best = Optimal(plan, classes, suspects, readings);
        var (ours, answered) = Asked(plan.Model, classes, readings, options);
        var (best1, best3) = Places(best, right);
        var (top1, top3) = Places(ours, right);
        return new Trial(
            truth.Kind, top1 > 0 ? truth.Kind : answered, top1, top3, best1, best3,
            Optimal(plan, classes, suspects, exact)[right] >= Distinguishable)
        {
            Sure = ours.Max(),
            BestSure = best.Max(),
        };
    }

    private static double[] Optimal(
        CircuitPlan plan, Classes classes, List<Suspect> suspects, MeasuredReading[] readings)
    {
        var logs = new BayesReference(plan, readings).LogWeights(suspects);
        var most = logs.Max();
        var byClass = new double[classes.Count];
        for (var i = 0; i < logs.Length; i++)
            byClass[classes.Of(suspects[i].Kind, suspects[i].Place)] += Math.Exp(logs[i] - most);
        var total = byClass.Sum();
        return Array.ConvertAll(byClass, weight => weight / total);
    }

    // Where an explanation names several places, each has its share.
    private static (double[] ByClass, FaultKind First) Asked(
        CircuitModel model, Classes classes, MeasuredReading[] readings, DiagnosisOptions options)
    {
        var explanations = Diagnosis.Explain(model, readings, options).Explanations;
        var byClass = new double[classes.Count];
        foreach (var one in explanations)
        {
            string[] places = one.Kind == FaultKind.TwoFittingsOfOtherWattage
                ? [.. Pairs(one.FittingIds)]
                : [.. one.FittingIds, .. one.RunIds, .. one.NodeIds];
            int[] numbers = [.. places.Select(place => classes.Of(one.Kind, place)).Where(number => number >= 0)];
            // A fault whose place makes no difference to the generator.
            if (numbers.Length == 0 && classes.Of(one.Kind, "") is >= 0 and var anywhere) numbers = [anywhere];
            foreach (var number in numbers) byClass[number] += one.Probability / numbers.Length;
        }

        return (byClass, explanations[0].Kind);
    }

    private static IEnumerable<string> Pairs(ImmutableArray<string> fittings) =>
        from a in Enumerable.Range(0, fittings.Length)
        from b in Enumerable.Range(a + 1, fittings.Length - a - 1)
        select $"{fittings[a]}+{fittings[b]}";

    private static (double Top1, double Top3) Places(double[] byClass, int right)
    {
        var mine = byClass[right];
        if (!(mine > 0)) return (0, 0);
        var above = byClass.Count(p => p > mine + Level);
        var level = byClass.Count(p => Math.Abs(p - mine) <= Level);
        return (above == 0 ? 1.0 / level : 0, Math.Clamp((3.0 - above) / level, 0, 1));
    }
}
