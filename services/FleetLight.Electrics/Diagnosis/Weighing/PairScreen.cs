namespace FleetLight.Electrics;

/// <summary>
/// Two fittings of other wattages: all pairs are weighed by adding the shifts that each alone makes in the readings, and
/// only the best are worked out exactly; those stand for the rest.
/// </summary>
internal sealed class PairScreen
{
    private const int MostExact = 8;
    private const int MostSingles = 400;

    private readonly Weigher weigher;
    private readonly Evidence evidence;
    private readonly Observation sound;
    private readonly Single[] singles;

    private PairScreen(Weigher weigher, Evidence evidence, Observation sound)
    {
        this.weigher = weigher;
        this.evidence = evidence;
        this.sound = sound;
        // The greatest shares first, if there are too many.
        singles = [.. weigher.Singles.OrderByDescending(one => one.Case.Share).Take(MostSingles).Select(Shift)];
    }

    /// <summary>Adds the pairs to what was weighed, those of one fitting with each step.</summary>
    /// <param name="weigher">What was weighed, the single faults with it.</param>
    /// <param name="definition">The fault.</param>
    /// <param name="prior">Its prior.</param>
    /// <param name="evidence">The readings.</param>
    /// <param name="sound">What the circuit as designed makes of them.</param>
    /// <param name="fittings">How many fittings the circuit has.</param>
    /// <returns>How many of the single faults were paired so far.</returns>
    public static IEnumerable<int> Weigh(
        Weigher weigher, FaultDefinition definition, double prior, Evidence evidence, Observation sound, int fittings) =>
        fittings < 2 || !(prior > 0) ? [] : new PairScreen(weigher, evidence, sound).Weigh(definition, prior / (fittings * (fittings - 1) / 2.0));

    private IEnumerable<int> Weigh(FaultDefinition definition, double priorOfPair)
    {
        var rest = new double[evidence.Rows.Length];
        for (var i = 0; i < rest.Length; i++) rest[i] = evidence.Rows[i].Value - sound.Mean[i];
        Cholesky.Whiten(sound.Factor, rest, rest.Length);
        var best = new PriorityQueue<Pair, double>(MostExact + 1);
        var total = new LogTotal();
        for (var i = 0; i < singles.Length; i++)
        {
            for (var j = i; j < singles.Length; j++)
            {
                var ways = Ways(singles[i], singles[j], i == j);
                if (!(ways > 0)) continue;
                var logPrior = Math.Log(priorOfPair * ways);
                var logWeight = logPrior - (0.5 * Distance(rest, singles[i].Shifts, singles[j].Shifts));
                total.Add(logWeight);
                if (best.Count == MostExact && best.TryPeek(out _, out var least) && least >= logWeight) continue;
                if (best.Count == MostExact) best.Dequeue();
                best.Enqueue(new Pair(i, j, logPrior, logWeight), logWeight);
            }

            yield return i + 1;
        }

        foreach (var _ in Work(definition, [.. best.UnorderedItems.Select(item => item.Element)], total.Log)) yield return singles.Length;
    }

    private IEnumerable<WeighedHypothesis?> Work(FaultDefinition definition, Pair[] best, double total)
    {
        var shown = new LogTotal();
        foreach (var pair in best) shown.Add(pair.LogWeight);
        foreach (var pair in best)
        {
            var (one, other) = (singles[pair.One], singles[pair.Other]);
            var second = other.Fitting == one.Fitting ? one.All.First(i => i != one.Fitting) : other.Fitting;
            var both = new FaultCase(1)
            {
                Fittings = [.. one.All.Concat(other.All).Distinct().Order()],
                Changes = [new FittingHasWatts(one.Fitting, one.Watts), new FittingHasWatts(second, other.Watts)],
            };
            yield return weigher.WeighOne(definition, both, pair.LogPrior + total - shown.Log);
        }
    }

    private Single Shift(WeighedHypothesis one)
    {
        var shifts = new double[evidence.Rows.Length];
        for (var i = 0; i < shifts.Length; i++) shifts[i] = one.Seen!.Mean[i] - sound.Mean[i];
        Cholesky.Whiten(sound.Factor, shifts, shifts.Length);
        var change = (FittingHasWatts)one.Changes[0];
        return new Single(change.Fitting, [.. one.Case.Fittings], change.Watts, one.Case.Share, shifts);
    }

    private static double Distance(double[] rest, double[] one, double[] other)
    {
        double distance = 0;
        for (var k = 0; k < rest.Length; k++)
        {
            var off = rest[k] - one[k] - other[k];
            distance += off * off;
        }

        return distance;
    }

    // In how many ways two fittings of the two lots can have these wattages, each wattage by its share.
    private static double Ways(Single one, Single other, bool same)
    {
        // A case's share is that of its fittings together.
        if (one.Fitting != other.Fitting) return one.Share * other.Share;
        double count = one.All.Length;
        return (count - 1) / count * one.Share * other.Share / (same ? 2 : 1);
    }

    private readonly record struct Pair(int One, int Other, double LogPrior, double LogWeight);

    private sealed record Single(int Fitting, int[] All, double Watts, double Share, double[] Shifts);
}
