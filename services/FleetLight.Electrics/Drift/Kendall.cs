namespace FleetLight.Electrics;

/// <summary>The Mann–Kendall test for a trend: what it found.</summary>
/// <param name="Score">
/// S: pairs in which the later value is greater, less pairs in which it is smaller. Pairs of one time do not count.
/// </param>
/// <param name="Variance">Variance of S without a trend, corrected for ties.</param>
/// <param name="Probability">Probability of an S as far from 0 without a trend, on either side, 0 to 1.</param>
/// <param name="IsExact">
/// Whether the probability follows from counting permutations; otherwise from the normal approximation with
/// continuity correction.
/// </param>
public sealed record MannKendall(int Score, double Variance, double Probability, bool IsExact)
{
    /// <summary>Most values for which permutations are counted; ties always ask for the approximation.</summary>
    public const int MostExact = Kendall.MostExact;

    /// <summary>Runs the test.</summary>
    /// <param name="times">Times, in any unit and order.</param>
    /// <param name="values">The value at each of them; as many, all finite.</param>
    public static MannKendall Of(ReadOnlySpan<double> times, ReadOnlySpan<double> values)
    {
        var n = Math.Min(times.Length, values.Length);
        var score = 0;
        for (var i = 0; i < n; i++)
            for (var j = i + 1; j < n; j++)
                score += Math.Sign(times[j] - times[i]) * Math.Sign(values[j] - values[i]);
        var (variance, tied) = Kendall.Variance(times[..n], values[..n]);
        if (!tied && n <= MostExact) return new(score, variance, Kendall.TwoSided(score, n), true);
        var z = variance > 0 ? Math.Max(0, Math.Abs(score) - 1) / Math.Sqrt(variance) : 0;
        return new(score, variance, Math.Min(1, 2 * StandardNormal.Cumulative(-z)), false);
    }
}

/// <summary>Distribution of Kendall's S where there is no trend.</summary>
internal static class Kendall
{
    public const int MostExact = 40;

    // Probability of each number of discordant pairs, for each number of values (Kendall, Rank Correlation Methods).
    private static readonly double[][] Discordant = Count();

    /// <summary>Probability of an S as far from 0, on either side, of n values without ties.</summary>
    public static double TwoSided(int score, int n)
    {
        if (n < 2 || score == 0) return 1;
        return Math.Min(1, 2 * AtLeast(Math.Abs(score), n));
    }

    /// <summary>Probability of an S of this or more, of n values without ties, 2 to <see cref="MostExact"/>.</summary>
    public static double AtLeast(int score, int n)
    {
        var pairs = n * (n - 1) / 2;
        double sum = 0;
        // S = pairs − 2 × discordant.
        for (var k = 0; pairs - (2 * k) >= score && k <= pairs; k++) sum += Discordant[n][k];
        return sum;
    }

    /// <summary>
    /// The least S whose probability, or more, is at most this, of n values without ties; null where even the greatest
    /// S is likelier.
    /// </summary>
    public static int? Critical(double oneSided, int n)
    {
        var pairs = n * (n - 1) / 2;
        double sum = 0;
        int? least = null;
        for (var k = 0; k <= pairs; k++)
        {
            sum += Discordant[n][k];
            // The published tables are of whole counts of permutations: rounding must not lose one.
            if (sum > oneSided * (1 + 1e-12)) break;
            least = pairs - (2 * k);
        }

        return least;
    }

    /// <summary>Variance of S, corrected for ties in times and in values, and whether there are any.</summary>
    public static (double Variance, bool Tied) Variance(ReadOnlySpan<double> times, ReadOnlySpan<double> values)
    {
        double n = times.Length;
        if (n < 2) return (0, false);
        var (t2, t3, t5) = Ties(times);
        var (u2, u3, u5) = Ties(values);
        var variance = ((n * (n - 1) * ((2 * n) + 5)) - t5 - u5) / 18;
        if (n > 2) variance += t3 * u3 / (9 * n * (n - 1) * (n - 2));
        variance += t2 * u2 / (2 * n * (n - 1));
        return (Math.Max(0, variance), t2 > 0 || u2 > 0);
    }

    private static (double Two, double Three, double Five) Ties(ReadOnlySpan<double> values)
    {
        var sorted = values.ToArray();
        Array.Sort(sorted);
        double two = 0, three = 0, five = 0;
        for (var i = 0; i < sorted.Length;)
        {
            var from = i;
            while (i < sorted.Length && sorted[i] == sorted[from]) i++;
            double t = i - from;
            two += t * (t - 1);
            three += t * (t - 1) * (t - 2);
            five += t * (t - 1) * ((2 * t) + 5);
        }

        return (two, three, five);
    }

    private static double[][] Count()
    {
        var all = new double[MostExact + 1][];
        all[0] = all[1] = [1];
        for (var n = 2; n <= MostExact; n++)
        {
            var before = all[n - 1];
            var now = new double[(n * (n - 1) / 2) + 1];
            for (var k = 0; k < now.Length; k++)
                for (var j = Math.Max(0, k - before.Length + 1); j < n && j <= k; j++)
                    now[k] += before[k - j] / n;
            all[n] = now;
        }

        return all;
    }
}
