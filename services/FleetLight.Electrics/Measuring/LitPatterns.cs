namespace FleetLight.Electrics;

/// <summary>
/// A look at which fittings are lit. One walk shows all of them, so it is one reading with a pattern for an answer:
/// seeing that one is dark says at once that the others are not, and what is learnt does not add up fitting by
/// fitting.
/// </summary>
internal static class LitPatterns
{
    /// <summary>More patterns than this, the unlikeliest left out, would cost more than they tell.</summary>
    private const int MostPatterns = 96;

    /// <summary>Information between class and pattern, bits.</summary>
    /// <remarks>
    /// Outcomes are the likeliest pattern of each explanation, and "any other". Taking those others together can only
    /// lose information, so the figure is never too high.
    /// </remarks>
    /// <param name="weights">Probability of each explanation.</param>
    /// <param name="classes">Class of each explanation.</param>
    /// <param name="classCount">How many classes there are.</param>
    /// <param name="foresights">
    /// By explanation and fitting: the probability that it is recorded as lit.
    /// </param>
    public static double Bits(
        ReadOnlySpan<double> weights, ReadOnlySpan<int> classes, int classCount, Foresight[][] foresights)
    {
        var patterns = Patterns(weights, foresights);
        var outcomes = patterns.Count + 1;
        var joint = new double[classCount * outcomes];
        for (var h = 0; h < foresights.Length; h++)
        {
            if (!(weights[h] > 0)) continue;
            var row = classes[h] * outcomes;
            double seen = 0;
            for (var o = 0; o < patterns.Count; o++)
            {
                var probability = Probability(foresights[h], patterns[o]);
                seen += probability;
                joint[row + o] += weights[h] * probability;
            }

            joint[row + patterns.Count] += weights[h] * Math.Max(0, 1 - seen);
        }

        return InformationGain.Bits(joint, outcomes);
    }

    private static List<bool[]> Patterns(ReadOnlySpan<double> weights, Foresight[][] foresights)
    {
        var order = new int[foresights.Length];
        for (var h = 0; h < order.Length; h++) order[h] = h;
        var keys = weights.ToArray();
        Array.Sort(keys, order);
        var patterns = new List<bool[]>();
        for (var i = order.Length - 1; i >= 0 && patterns.Count < MostPatterns; i--)
        {
            var pattern = Array.ConvertAll(foresights[order[i]], IsLit);
            if (!patterns.Exists(other => other.AsSpan().SequenceEqual(pattern))) patterns.Add(pattern);
        }

        return patterns;
    }

    private static bool IsLit(Foresight foresight) => LitProbability(foresight) >= 0.5;

    private static double LitProbability(Foresight foresight) =>
        foresight.Known ? Math.Clamp(foresight.Mean, 0, 1) : 0.5;

    private static double Probability(Foresight[] foresights, bool[] pattern)
    {
        double probability = 1;
        for (var f = 0; f < pattern.Length; f++)
        {
            var lit = LitProbability(foresights[f]);
            probability *= pattern[f] ? lit : 1 - lit;
        }

        return probability;
    }
}
