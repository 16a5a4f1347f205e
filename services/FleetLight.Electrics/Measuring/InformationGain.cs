namespace FleetLight.Electrics;

/// <summary>How much a reading is expected to tell about which class of explanations is true.</summary>
/// <remarks>
/// The mutual information between class and reading (Shannon 1948): what the reading is expected to take off the
/// entropy of the classes. 1 bit settles an even choice between two.
/// </remarks>
internal static class InformationGain
{
    // Gauss–Legendre with five points on −1 to 1 (Abramowitz and Stegun, table 25.4; from memory, checked in the tests).
    private static readonly double[] Points =
        [-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664];

    private static readonly double[] Weights =
        [0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189];

    // Where a normal density is cut into pieces, in standard deviations.
    private static readonly double[] Cuts = [-8, -5, -3.5, -2.5, -1.75, -1, -0.4, 0.4, 1, 1.75, 2.5, 3.5, 5, 8];

    /// <summary>Entropy of a distribution, bits.</summary>
    /// <param name="shares">Its shares; they need not sum to 1.</param>
    public static double Entropy(ReadOnlySpan<double> shares)
    {
        double total = 0, sum = 0;
        foreach (var share in shares)
        {
            if (!(share > 0)) continue;
            total += share;
            sum += share * Math.Log2(share);
        }

        return total > 0 ? Math.Max(0, Math.Log2(total) - (sum / total)) : 0;
    }

    /// <summary>Information between class and a reading on a continuous scale, bits.</summary>
    /// <param name="weights">Probability of each explanation; they need not sum to 1.</param>
    /// <param name="classes">Class of each explanation, 0 to <paramref name="classCount"/> − 1.</param>
    /// <param name="classCount">How many classes there are.</param>
    /// <param name="forecasts">What each explanation foretells.</param>
    public static double Bits(
        ReadOnlySpan<double> weights, ReadOnlySpan<int> classes, int classCount, ReadOnlySpan<Forecast> forecasts)
    {
        var (shares, parts) = Merge(weights, classes, classCount, forecasts);
        if (shares.Count(share => share > 0) < 2) return 0;
        var cuts = Breaks(parts);
        var density = new double[classCount];
        double bits = 0;
        for (var i = 1; i < cuts.Count; i++) bits += Piece(parts, shares, density, cuts[i - 1], cuts[i]);
        return Math.Clamp(bits, 0, Entropy(shares));
    }

    /// <summary>Information between class and a reading with few outcomes, bits.</summary>
    /// <param name="joint">Probability of class and outcome together, class by class; need not sum to 1.</param>
    /// <param name="outcomes">How many outcomes there are.</param>
    public static double Bits(ReadOnlySpan<double> joint, int outcomes)
    {
        var classCount = outcomes > 0 ? joint.Length / outcomes : 0;
        var byClass = new double[classCount];
        var byOutcome = new double[outcomes];
        for (var c = 0; c < classCount; c++)
        {
            for (var o = 0; o < outcomes; o++)
            {
                byClass[c] += joint[(c * outcomes) + o];
                byOutcome[o] += joint[(c * outcomes) + o];
            }
        }

        return Math.Max(0, Entropy(byClass) + Entropy(byOutcome) - Entropy(joint));
    }

    private readonly record struct Part(double Share, int Class, Forecast Forecast);

    // Explanations of one class that foretell the same are looked at as one.
    private static (double[] Shares, List<Part> Parts) Merge(
        ReadOnlySpan<double> weights, ReadOnlySpan<int> classes, int classCount, ReadOnlySpan<Forecast> forecasts)
    {
        double total = 0;
        foreach (var weight in weights) total += weight > 0 ? weight : 0;
        var shares = new double[classCount];
        var parts = new List<Part>(weights.Length);
        for (var i = 0; i < weights.Length; i++)
        {
            if (!(weights[i] > 0)) continue;
            var part = new Part(weights[i] / total, classes[i], forecasts[i]);
            shares[part.Class] += part.Share;
            var like = parts.FindIndex(p => p.Class == part.Class && p.Forecast.IsLike(part.Forecast));
            if (like < 0) parts.Add(part);
            else parts[like] = parts[like] with { Share = parts[like].Share + part.Share };
        }

        return (shares, parts);
    }

    // Where the axis is cut, so that on each piece every density is smooth.
    private static List<double> Breaks(List<Part> parts)
    {
        var wanted = new List<(double At, double Room)>(parts.Count * Cuts.Length);
        foreach (var (_, _, forecast) in parts)
        {
            if (forecast.Kind == ForecastKind.Even)
            {
                wanted.Add((forecast.Low, 0));
                wanted.Add((forecast.High, 0));
                continue;
            }

            foreach (var cut in Cuts) wanted.Add((forecast.Centre + (cut * forecast.Spread), 0.3 * forecast.Spread));
        }

        wanted.Sort();
        var cuts = new List<double>(wanted.Count);
        for (var i = 0; i < wanted.Count; i++)
        {
            if (i == 0 || i == wanted.Count - 1 || wanted[i].At - cuts[^1] > wanted[i].Room) cuts.Add(wanted[i].At);
        }

        return cuts;
    }

    private static double Piece(List<Part> parts, double[] shares, double[] density, double low, double high)
    {
        var half = (high - low) / 2;
        if (!(half > 0)) return 0;
        double sum = 0;
        for (var k = 0; k < Points.Length; k++)
        {
            var x = low + (half * (1 + Points[k]));
            Array.Clear(density);
            double all = 0;
            foreach (var (share, own, forecast) in parts)
            {
                if (x < forecast.Low || x > forecast.High) continue;
                var here = share * forecast.Density(x);
                density[own] += here;
                all += here;
            }

            double inner = 0;
            for (var c = 0; c < density.Length; c++)
                if (density[c] > 0) inner += density[c] * Math.Log2(density[c] / (shares[c] * all));
            sum += Weights[k] * inner;
        }

        return half * sum;
    }
}
