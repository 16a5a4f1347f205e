namespace FleetLight.Electrics;

/// <summary>
/// How far each point lies from what those before it led to expect, in standard deviations: without a change these are
/// independent and standard normal though neither level, season, meters nor scatter are known beforehand (recursive
/// residuals: Brown, Durbin and Evans, JRSS B 37, 1975; self-starting charts: Hawkins, The Statistician 36, 1987; both
/// from memory).
/// </summary>
internal static class DriftScores
{
    // One wild value must not signal by itself: it is cut below what a CUSUM chart signals at.
    private const double MostDeviations = 3.5;

    /// <summary>The scores of these points, in order; 0 where nothing is known before.</summary>
    /// <param name="model">The points with their fit.</param>
    /// <param name="charted">The points of the newest stretch that are charted.</param>
    public static double[] Of(DriftModel model, IReadOnlyList<int> charted)
    {
        DriftColumn[] columns =
        [
            .. model.Columns.Where(column => column.IsKnown || column.Effect is DriftEffect.Level or DriftEffect.WorkStep),
        ];
        double[][] matrix = [.. columns.Select(column => column.Values)];
        var known = columns.Count(column => column.IsKnown);
        var scores = new double[charted.Count];
        double squares = 0;
        for (var k = 1; k < scores.Length; k++)
        {
            var at = charted[k];
            var fit = DriftFit.Of(matrix, known, model.Values, model.Variances(before: at));
            var variance = model.VarianceAt(at) + fit.VarianceOf([.. matrix.Select(column => column[at])]);
            var off = fit.Residuals[at] / Math.Sqrt(variance);
            var freedom = k - 1 + DriftModel.FreedomBeforehand;
            scores[k] = Math.Clamp(
                TDistribution.ToNormal(off / Math.Sqrt(model.Scale(squares, k - 1)), freedom), -MostDeviations, MostDeviations);
            squares += Math.Min(off * off, MostDeviations * MostDeviations);
        }

        return scores;
    }
}
