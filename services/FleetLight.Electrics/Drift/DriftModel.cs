namespace FleetLight.Electrics;

/// <summary>The points of a series with the fit that describes them best so far.</summary>
internal sealed class DriftModel
{
    /// <summary>
    /// What is taken for the scatter beforehand weighs as much as so many points (a moderated variance: Smyth,
    /// Statistical Applications in Genetics and Molecular Biology 3, 2004; from memory).
    /// </summary>
    public const double FreedomBeforehand = 6;

    private readonly double[] own;

    public DriftModel(DriftPoint[] points, DriftSeries series, DriftOptions options)
    {
        Points = points;
        Values = Array.ConvertAll(points, point => point.Deviation);
        var meters = DriftNuisances.MetersOf(points);
        var several = points.DistinctBy(point => point.MeterId).Count() > 1;
        own = Array.ConvertAll(
            points,
            // What a meter that is not estimated is off by is noise.
            point => (point.Noise * point.Noise)
                + (several && !meters.Contains(point.MeterId) ? point.Gain * point.Gain : 0));
        IsOutlier = new bool[points.Length];
        Columns = DriftNuisances.Of(points, series, options);
        Fit = DriftFit.Of([], 0, Values, own);
    }

    /// <summary>The points, oldest first.</summary>
    public DriftPoint[] Points { get; }

    /// <summary>Their deviations.</summary>
    public double[] Values { get; }

    /// <summary>Points that are left out because they stand alone.</summary>
    public bool[] IsOutlier { get; private set; }

    /// <summary>The columns of the fit; those that are known beforehand first.</summary>
    public List<DriftColumn> Columns { get; private set; }

    /// <summary>The columns that are known beforehand.</summary>
    public IEnumerable<DriftColumn> Nuisances => Columns.Where(column => column.IsKnown);

    /// <summary>The fit.</summary>
    public DriftFit Fit { get; private set; }

    /// <summary>Variance of what the points scatter by beyond their meters' digits.</summary>
    public double Scatter { get; private set; }

    /// <summary>Variance of a point's own noise.</summary>
    public double VarianceAt(int point) => Scatter + own[point];

    /// <summary>Finds the points that stand alone, with every stretch described as richly as it can be.</summary>
    public void LeaveOut(IReadOnlyList<(int From, int Until)> stretches)
    {
        List<DriftColumn> rich = [.. Nuisances];
        foreach (var (from, until) in stretches)
        {
            rich.Add(DriftColumn.LevelOf(Points.Length, from, until));
            if (until - from >= 5) rich.Add(DriftColumn.SlopeOf(DriftEffect.Slope, Points, from, until));
        }

        IsOutlier = DriftOutliers.Find(rich, Values, own, stretches);
        Settle(rich);
    }

    /// <summary>Fits these columns, with the scatter that the points then show.</summary>
    public void Settle(List<DriftColumn> columns)
    {
        Columns = columns;
        for (var i = 0; i < 4; i++)
        {
            Refit();
            Scatter = DriftOutliers.Scatter(Fit, IsOutlier, own);
        }

        Refit();
    }

    /// <summary>
    /// How much more or less the points scatter than their variances say, as far as they show it beyond what was taken
    /// for it beforehand; never less than their meters alone do.
    /// </summary>
    public double Scale(double squares, double freedom)
    {
        double least = 0, beforehand = 0;
        var count = 0;
        for (var i = 0; i < own.Length; i++)
        {
            if (IsOutlier[i]) continue;
            var variance = VarianceAt(i);
            least += own[i] / variance;
            beforehand += (own[i] + (Points[i].Daily * Points[i].Daily)) / variance;
            count++;
        }

        var shown = (Math.Max(squares, 0) + (FreedomBeforehand * beforehand / Math.Max(1, count)))
            / (Math.Max(freedom, 0) + FreedomBeforehand);
        return Math.Max(shown, least / Math.Max(1, count));
    }

    /// <summary>How many points of a stretch count.</summary>
    public int Counting(int from, int until)
    {
        var count = 0;
        for (var i = from; i < until; i++)
            if (!IsOutlier[i]) count++;
        return count;
    }

    /// <summary>Days from one point to another.</summary>
    public double DaysBetween(int from, int to) => (Points[to].Years - Points[from].Years) * DriftPoints.DaysAYear;

    /// <summary>
    /// A point's deviation without season and meters, and with designs, works and, where wanted, steps as for the
    /// newest.
    /// </summary>
    public double Adjusted(int point, bool withSteps)
    {
        var value = Values[point];
        for (var c = 0; c < Columns.Count; c++)
        {
            var column = Columns[c];
            if (!column.IsKnown && column.Effect is not (DriftEffect.WorkStep or DriftEffect.Step)) continue;
            if (column.Effect == DriftEffect.Step && !withSteps) continue;
            value -= Fit.Beta[c] * (column.Values[point] - (column.IsOfNewest ? column.Values[^1] : 0));
        }

        return value;
    }

    /// <summary>
    /// Variance of a sum of unknowns, each times its factor, if all that is known beforehand were known for certain.
    /// </summary>
    public double VarianceWithoutNuisances(double[] factors)
    {
        var known = Columns.Count(column => column.IsKnown);
        double[][] left = [.. Columns.Skip(known).Select(column => column.Values)];
        return DriftFit.Of(left, 0, Values, Variances()).VarianceOf(factors[known..]);
    }

    /// <summary>How far the points after recorded work lie off the line of those before it, standard deviations.</summary>
    /// <param name="from">First point before it.</param>
    /// <param name="at">First point after it.</param>
    /// <param name="until">End of the points after it, exclusive.</param>
    public double DeviationsAt(int from, int at, int until)
    {
        List<double[]> columns = [DriftColumn.LevelOf(Points.Length, from, until).Values];
        if (Counting(from, until) >= 5)
            columns.Add(DriftColumn.SlopeOf(DriftEffect.Slope, Points, from, until).Values);
        var adjusted = new double[Points.Length];
        var variances = Variances();
        for (var i = 0; i < adjusted.Length; i++)
        {
            if (i < from || i >= until) variances[i] = double.PositiveInfinity;
            else adjusted[i] = Adjusted(i, withSteps: false);
        }

        var (size, information) = DriftFit.Of([.. columns], 0, adjusted, variances)
            .WithOneMore(DriftColumn.LevelOf(Points.Length, at, until).Values);
        return size * Math.Sqrt(information);
    }

    /// <summary>How far a point lies off the fit, standard deviations.</summary>
    public double DeviationsOf(int point) =>
        Math.Abs(Fit.Residuals[point]) / Math.Sqrt(VarianceAt(point) * Scale(Fit.Squares, Fit.Freedom));

    /// <summary>Variance of each point; infinite for one that does not count.</summary>
    /// <param name="before">Only points before this one count.</param>
    public double[] Variances(int before = int.MaxValue)
    {
        var variances = new double[Values.Length];
        for (var i = 0; i < variances.Length; i++)
            variances[i] = IsOutlier[i] || i >= before ? double.PositiveInfinity : VarianceAt(i);
        return variances;
    }

    /// <summary>Fits these columns with the scatter as it was.</summary>
    public void Fits(List<DriftColumn> columns)
    {
        Columns = columns;
        Refit();
    }

    private void Refit() => Fit = DriftFit.Of(
        [.. Columns.Select(column => column.Values)], Columns.Count(column => column.IsKnown), Values, Variances());
}
