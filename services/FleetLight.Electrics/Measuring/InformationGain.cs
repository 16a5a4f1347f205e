namespace FleetLight.Electrics;

/// <summary>How much a reading is expected to tell about which class of explanations is true.</summary>
/// <remarks>
/// The mutual information between class and reading (Shannon 1948): what the reading is expected to take off the
/// entropy of the classes. 1 bit settles an even choice between two.
/// </remarks>
internal static class InformationGain
{
    // Gauss–Legendre with five points on −1 to 1 (Abramowitz and Stegun, table 25.4; from memory, checked in the
    // tests).
    private static readonly double[] Points =
        [-0.906179845938664, -0.538469310105683, 0, 0.538469310105683, 0.906179845938664];

    private static readonly double[] Weights =
        [0.236926885056189, 0.478628670499366, 0.568888888888889, 0.478628670499366, 0.236926885056189];

    // Where a normal density is cut into pieces, in standard deviations.
    private static readonly double[] Cuts = [-6.5, -4, -2.5, -1.5, -0.5, 0.5, 1.5, 2.5, 4, 6.5];

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
        parts.Sort((one, other) => one.Forecast.Low.CompareTo(other.Forecast.Low));
        var sweep = new Sweep(shares, parts);
        double bits = 0;
        for (var i = 1; i < cuts.Count; i++) bits += sweep.Over(cuts[i - 1], cuts[i]);
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

    // Goes over the axis from left to right, with only those at hand that reach into the piece.
    private sealed class Sweep(double[] shares, List<Part> parts)
    {
        private readonly double[] density = new double[shares.Length];
        private readonly List<Part> active = [];
        private readonly List<int> touched = [];
        private int next;

        /// <summary>The integral of p(class, x)·log₂(p(class, x) / p(class)·p(x)) over a piece.</summary>
        public double Over(double low, double high)
        {
            active.RemoveAll(part => part.Forecast.High <= low);
            for (; next < parts.Count && parts[next].Forecast.Low < high; next++) active.Add(parts[next]);
            var half = (high - low) / 2;
            double sum = 0;
            for (var k = 0; k < Points.Length; k++) sum += Weights[k] * At(low + (half * (1 + Points[k])));
            return half * sum;
        }

        private double At(double x)
        {
            double all = 0;
            foreach (var (share, own, forecast) in active)
            {
                var here = share * forecast.Density(x);
                if (!(here > 0)) continue;
                if (density[own] == 0) touched.Add(own);
                density[own] += here;
                all += here;
            }

            double sum = 0;
            foreach (var own in touched)
            {
                sum += density[own] * Math.Log2(density[own] / (shares[own] * all));
                density[own] = 0;
            }

            touched.Clear();
            return sum;
        }
    }
}
