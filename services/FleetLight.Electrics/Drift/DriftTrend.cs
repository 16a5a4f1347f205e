namespace FleetLight.Electrics;

/// <summary>The rate at which the newest stretch changes, on the scale, with where it stands.</summary>
internal sealed record DriftTrend
{
    public required double Slope { get; init; }

    /// <summary>How much lower and higher it may be.</summary>
    public required double Below { get; init; }

    public required double Above { get; init; }

    /// <summary>Point from which it changes so.</summary>
    public required int From { get; init; }

    /// <summary>Years at which the level is taken, the level, and half its interval.</summary>
    public required double PivotYears { get; init; }

    public required double Level { get; init; }

    public required double LevelHalf { get; init; }

    public required double Deviation { get; init; }

    public required MannKendall Test { get; init; }

    /// <summary>The trend of a stretch up to the newest point.</summary>
    public static DriftTrend Of(DriftModel model, int stretch, DriftOptions options)
    {
        var fit = model.Fit;
        var scale = model.Scale(fit.Squares, fit.Freedom);
        var from = stretch;
        foreach (var column in model.Columns)
            if (column.Effect == DriftEffect.Bend && column.From > from) from = column.From - 1;
        List<int> part = [.. Enumerable.Range(from, model.Points.Length - from).Where(i => !model.IsOutlier[i])];
        double[] times = [.. part.Select(i => model.Points[i].Years)];
        double[] values = [.. part.Select(i => model.Adjusted(i, withSteps: true))];
        var sen = TheilSen.Of(times, values, options.Confidence, [.. part.Select(model.VarianceAt)]);

        // What season, meters and designs leave open widens what the scatter of the points leaves open.
        double[] rate = [.. model.Columns.Select(column => IsRate(column, stretch) ? 1.0 : 0)];
        var quantile = TDistribution.QuantileTwoSided(
            1 - options.Confidence, Math.Max(0, fit.Freedom) + DriftModel.FreedomBeforehand);
        var whole = fit.VarianceOf(rate) * scale;
        var added = Math.Max(0, whole - (model.VarianceWithoutNuisances(rate) * scale));
        var pivot = times[times.Length / 2];
        var off = new double[values.Length];
        for (var i = 0; i < off.Length; i++) off[i] = values[i] - (sen.Slope * (times[i] - pivot));
        Array.Sort(off);
        return new DriftTrend
        {
            Slope = sen.Slope,
            Below = Half(sen.Slope - sen.Low),
            Above = Half(sen.High - sen.Slope),
            From = from,
            PivotYears = pivot,
            Level = (off[(off.Length - 1) / 2] + off[off.Length / 2]) / 2,
            LevelHalf = quantile * Math.Sqrt(fit.VarianceOf(Factors(model, stretch, pivot)) * scale),
            Deviation = Math.Sqrt(scale * model.VarianceAt(model.Points.Length - 1)),
            Test = MannKendall.Of(times, values),
        };

        // Of few points the ranks alone promise too much.
        double Half(double? bySen) =>
            quantile * Math.Sqrt(Math.Max(whole, added + (bySen * bySen / (quantile * quantile) ?? 0)));
    }

    /// <summary>Level at a time, on the scale.</summary>
    public double At(double years) => Level + (Slope * (years - PivotYears));

    private static bool IsRate(DriftColumn column, int stretch) =>
        column.Effect is DriftEffect.Slope or DriftEffect.Bend && column.From >= stretch;

    // What each unknown of the fit brings to the level of the newest state at a time.
    private static double[] Factors(DriftModel model, int stretch, double years)
    {
        var factors = new double[model.Columns.Count];
        for (var c = 0; c < factors.Length; c++)
        {
            var column = model.Columns[c];
            factors[c] = column.Effect switch
            {
                DriftEffect.Level or DriftEffect.WorkStep or DriftEffect.Step or DriftEffect.Design => column.Values[^1],
                DriftEffect.Slope or DriftEffect.Bend when column.From >= stretch => Math.Max(
                    0, years - model.Points[column.Effect == DriftEffect.Bend ? column.From - 1 : column.From].Years),
                _ => 0,
            };
        }

        return factors;
    }
}
