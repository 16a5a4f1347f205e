namespace FleetLight.Electrics;

/// <summary>The Theil–Sen slope: the median of the slopes of all pairs, with its confidence interval.</summary>
/// <param name="Slope">The slope, value per unit of time; 0 where no two times differ.</param>
/// <param name="Low">
/// Lower end of its interval by Kendall's S (Sen, JASA 63, 1968; Hollander and Wolfe, section 9.3); null where the values
/// are too few for one of that confidence.
/// </param>
/// <param name="High">Upper end of its interval; null like the lower.</param>
/// <param name="Pairs">Number of pairs of different times.</param>
public sealed record TheilSen(double Slope, double? Low, double? High, int Pairs)
{
    /// <summary>Works out the slope.</summary>
    /// <param name="times">Times, in any unit and order.</param>
    /// <param name="values">The value at each of them; as many, all finite.</param>
    /// <param name="confidence">Confidence of the interval, above 0 to below 1.</param>
    /// <param name="variances">
    /// Variance of each value's own noise, where they differ (different meters): a pair then weighs the less the more
    /// its two values scatter. Null or all the same for equal weights.
    /// </param>
    public static TheilSen Of(
        ReadOnlySpan<double> times, ReadOnlySpan<double> values, double confidence,
        ReadOnlySpan<double> variances = default)
    {
        var n = Math.Min(times.Length, values.Length);
        var even = variances.Length < n || IsEven(variances[..n]);
        var pairs = new (double Slope, double Weight)[n * (n - 1) / 2];
        var count = 0;
        for (var i = 0; i < n; i++)
        {
            for (var j = i + 1; j < n; j++)
            {
                if (times[i] == times[j]) continue;
                var weight = even ? 1 : 2 * variances[0] / (variances[i] + variances[j]);
                pairs[count++] = ((values[j] - values[i]) / (times[j] - times[i]), weight);
            }
        }

        if (count == 0) return new(0, null, null, 0);
        var sorted = pairs.AsSpan(0, count);
        sorted.Sort((x, y) => x.Slope.CompareTo(y.Slope));
        var (low, high) = even
            ? Interval(sorted, times[..n], values[..n], confidence)
            : Interval(sorted, times[..n], variances[..n], variances[0], confidence);
        return new(even ? Median(sorted) : AtWeight(sorted, 0.5), low, high, count);
    }

    // Order statistics of the slopes, by the exact distribution of S or, with ties or many values, the normal one.
    private static (double? Low, double? High) Interval(
        ReadOnlySpan<(double Slope, double Weight)> sorted, ReadOnlySpan<double> times, ReadOnlySpan<double> values,
        double confidence)
    {
        var n = times.Length;
        var side = (1 - confidence) / 2;
        var (variance, tied) = Kendall.Variance(times, values);
        double reach;
        if (!tied && n <= Kendall.MostExact)
        {
            if (Kendall.Critical(side, n) is not { } critical) return default;
            reach = critical - 2;
        }
        else
        {
            reach = -StandardNormal.Quantile(side) * Math.Sqrt(variance);
        }

        // Half a slope too far out rather than too near.
        var from = (int)Math.Floor((sorted.Length - reach) / 2);
        return from < 1 ? (null, null) : (sorted[from - 1].Slope, sorted[^from].Slope);
    }

    // With weights S is a weighted sum of signs. Two signs that share a value correlate by a third, as for equal noise.
    private static (double? Low, double? High) Interval(
        ReadOnlySpan<(double Slope, double Weight)> sorted, ReadOnlySpan<double> times, ReadOnlySpan<double> variances,
        double unit, double confidence)
    {
        double total = 0, variance = 0;
        for (var i = 0; i < times.Length; i++)
        {
            double signed = 0;
            for (var j = 0; j < times.Length; j++)
            {
                if (times[i] == times[j]) continue;
                var weight = 2 * unit / (variances[i] + variances[j]);
                signed += Math.Sign(times[j] - times[i]) * weight;
                if (j < i) continue;
                total += weight;
                variance += weight * weight / 3;
            }

            variance += signed * signed / 3;
        }

        var share = (1 - (StandardNormal.Quantile((1 + confidence) / 2) * Math.Sqrt(variance) / total)) / 2;
        return share <= 0 || sorted[0].Weight > share * total
            ? (null, null)
            : (AtWeight(sorted, share), AtWeight(sorted, 1 - share));
    }

    private static double Median(ReadOnlySpan<(double Slope, double Weight)> sorted)
    {
        var middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle].Slope : (sorted[middle - 1].Slope + sorted[middle].Slope) / 2;
    }

    private static double AtWeight(ReadOnlySpan<(double Slope, double Weight)> sorted, double share)
    {
        double total = 0, sum = 0;
        foreach (var (_, weight) in sorted) total += weight;
        foreach (var (slope, weight) in sorted)
        {
            sum += weight;
            if (sum >= share * total) return slope;
        }

        return sorted[^1].Slope;
    }

    private static bool IsEven(ReadOnlySpan<double> variances)
    {
        foreach (var variance in variances)
            if (!(Math.Abs(variance - variances[0]) <= 1e-9 * variances[0])) return false;
        return true;
    }
}
