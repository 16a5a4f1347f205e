using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Draws up the charts.</summary>
internal static class DriftCharts
{
    private const double Sigmas = 3;

    public static DriftChart Of(
        DriftSeries series, DriftOptions options, DriftScale scale, DriftModel model, DriftTrend trend, int stretch)
    {
        var points = model.Points;
        // A point that stands alone says nothing in a chart, unless it is the newest: the next visit will tell.
        List<int> charted =
        [
            .. Enumerable.Range(stretch, points.Length - stretch).Where(i => !model.IsOutlier[i] || i == points.Length - 1),
        ];
        var scores = DriftScores.Of(model, charted);
        var cusum = ControlCharts.Cusum(scores, 0, options.CusumAllowance, options.CusumDecision);
        var ewma = ControlCharts.Ewma(scores, 0, 1, options.EwmaWeight, options.EwmaWidth);
        var newest = points[^1].Expected is { } expected ? scale.Of(expected) : 0;
        var drawn = ImmutableArray.CreateBuilder<ChartPoint>(points.Length);
        DateTimeOffset? first = null;
        for (var i = 0; i < points.Length; i++)
        {
            var at = charted.IndexOf(i);
            var centre = Centre(model, trend, i, stretch);
            if (at >= 0 && (cusum[at].Signals || ewma[at].Signals)) first ??= points[i].At;
            drawn.Add(new ChartPoint
            {
                At = points[i].At,
                Value = points[i].Shown,
                Adjusted = scale.Back(newest + model.Adjusted(i, withSteps: false)),
                Centre = scale.Back(newest + centre),
                Low = scale.Back(newest + centre - (Sigmas * trend.Deviation)),
                High = scale.Back(newest + centre + (Sigmas * trend.Deviation)),
                IsOutlier = model.IsOutlier[i],
                Cusum = at < 0 ? null : cusum[at],
                Ewma = at < 0 ? null : ewma[at],
            });
        }

        return new DriftChart
        {
            Points = drawn.MoveToImmutable(),
            LowLimit = series.LowLimit is { } low && scale.IsUsable(low) ? low : null,
            HighLimit = series.HighLimit is { } high && scale.IsUsable(high) ? high : null,
            CusumDecision = options.CusumDecision,
            FirstSignal = first,
        };
    }

    // What the fit says of the point without season and meters; for the newest stretch by the rate that is told.
    private static double Centre(DriftModel model, DriftTrend trend, int point, int stretch)
    {
        var fitted = model.Adjusted(point, withSteps: false) - model.Fit.Residuals[point];
        if (point < Math.Max(stretch, trend.From)) return fitted;
        return trend.At(model.Points[point].Years) - (model.Adjusted(point, withSteps: true) - model.Adjusted(point, withSteps: false));
    }
}
