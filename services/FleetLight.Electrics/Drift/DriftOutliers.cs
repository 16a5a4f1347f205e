namespace FleetLight.Electrics;

/// <summary>Finds points that stand alone, and how much the others scatter.</summary>
internal static class DriftOutliers
{
    // Huber's k and the usual factor from the median absolute residual to a standard deviation (Huber, Robust
    // Statistics).
    private const double Bend = 1.5;
    private const double ToDeviation = 1.4826;

    // So many in a row that came and went are errors; at the end two that agree are a change.
    private const int MostInARow = 2;

    // Of normal noise one point in 16,000 lies so far off.
    private const double Far = 4;

    // Of the newest, that it is an error, and what it may pull by otherwise.
    private const double Wild = 8;
    private const double Pull = 2.5;

    /// <summary>
    /// The points that lie far off a robust fit and stand alone. Several in a row that lie off to the same side are a
    /// change, not outliers. At most a quarter of the points are left out, those furthest off.
    /// </summary>
    /// <param name="columns">The columns of the fit.</param>
    /// <param name="values">The values.</param>
    /// <param name="own">
    /// Variance that each value has by its meter; that of the newest is widened where it is far off.
    /// </param>
    /// <param name="stretches">The stretches between works.</param>
    public static bool[] Find(
        List<DriftColumn> columns, double[] values, double[] own, IReadOnlyList<(int From, int Until)> stretches)
    {
        var n = values.Length;
        var off = FromMedian(values, stretches);
        var deviation = Deviation(off, own, columns.Count);
        var variances = new double[n];
        double[][] matrix = [.. columns.Select(column => column.Values)];
        var known = columns.Count(column => column.IsKnown);
        for (var round = 0; round < 25; round++)
        {
            for (var i = 0; i < n; i++)
            {
                var allowed = Math.Sqrt((deviation * deviation) + own[i]);
                variances[i] = allowed * allowed * Math.Max(1, Math.Abs(off[i]) / (Bend * allowed));
            }

            off = DriftFit.Of(matrix, known, values, variances).Residuals;
            deviation = Deviation(off, own, columns.Count);
        }

        var far = new bool[n];
        for (var i = 0; i < n; i++) far[i] = Math.Abs(off[i]) > Far * Math.Sqrt((deviation * deviation) + own[i]);
        var outliers = Alone(far, off, stretches);
        // The newest may be the first of a change: unless it is wild it counts, but pulls no more than a common one.
        if (n > 0 && outliers[^1] && Math.Abs(off[^1]) <= Wild * Math.Sqrt((deviation * deviation) + own[^1]))
        {
            outliers[^1] = false;
            own[^1] = Math.Max(own[^1], off[^1] * off[^1] / (Pull * Pull));
        }

        return outliers;
    }

    /// <summary>
    /// Variance beyond the meters' that makes the sum of squares what the degrees of freedom ask for (Paule and Mandel,
    /// 1982); 0 where the meters explain all.
    /// </summary>
    public static double Scatter(DriftFit fit, bool[] isOutlier, double[] own)
    {
        var freedom = Math.Max(fit.Freedom, 1);
        double low = 0, high = 0;
        for (var i = 0; i < own.Length; i++)
            if (!isOutlier[i]) high += fit.Residuals[i] * fit.Residuals[i];
        if (Sum(0) <= freedom) return 0;
        for (var i = 0; i < 40; i++)
        {
            var middle = (low + high) / 2;
            if (Sum(middle) > freedom) low = middle;
            else high = middle;
        }

        return high;

        double Sum(double scatter)
        {
            double sum = 0;
            for (var i = 0; i < own.Length; i++)
                if (!isOutlier[i]) sum += fit.Residuals[i] * fit.Residuals[i] / (scatter + own[i]);
            return sum;
        }
    }

    private static bool[] Alone(bool[] far, double[] off, IReadOnlyList<(int From, int Until)> stretches)
    {
        List<int> alone = [];
        foreach (var (from, until) in stretches)
        {
            for (var i = from; i < until;)
            {
                var start = i++;
                if (!far[start]) continue;
                while (i < until && far[i] && Math.Sign(off[i]) == Math.Sign(off[start])) i++;
                if (i - start <= (i == until ? 1 : MostInARow)) alone.AddRange(Enumerable.Range(start, i - start));
            }
        }

        var outliers = new bool[off.Length];
        foreach (var i in alone.OrderByDescending(i => Math.Abs(off[i])).Take(off.Length / 4)) outliers[i] = true;
        return outliers;
    }

    private static double[] FromMedian(double[] values, IReadOnlyList<(int From, int Until)> stretches)
    {
        var off = (double[])values.Clone();
        foreach (var (from, until) in stretches)
        {
            var median = Median(values[from..until]);
            for (var i = from; i < until; i++) off[i] -= median;
        }

        return off;
    }

    private static double Deviation(double[] off, double[] own, int unknowns)
    {
        // Few values and many unknowns leave small residuals.
        var left = Math.Sqrt(off.Length / Math.Max(1.0, off.Length - unknowns));
        var least = Math.Sqrt(Median(own));
        return Math.Max(ToDeviation * left * Median(Array.ConvertAll(off, Math.Abs)), least);
    }

    private static double Median(double[] values)
    {
        if (values.Length == 0) return 0;
        var sorted = (double[])values.Clone();
        Array.Sort(sorted);
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
