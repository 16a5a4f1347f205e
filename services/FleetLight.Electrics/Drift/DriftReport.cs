using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Puts what was found into a finding.</summary>
internal static class DriftReport
{
    // A step stands as long as this share of it is left, and more than chance.
    private const double StandingShare = 0.3;
    private const double StandingDeviations = 3;

    // Of normal noise one newest reading in 2,000 lies so far off the line.
    private const double ApartDeviations = 3.5;

    public static DriftFinding Of(
        DriftSeries series, DriftOptions options, DriftScale scale, DriftPoints read, DriftModel model, DriftWorks works,
        DriftTrend trend, bool isSlow)
    {
        var stretch = works.Stretches[^1].From;
        var steps = Steps(model, works, scale);
        var crossings = DriftCrossings.Of(trend, model, series, scale);
        var chart = DriftCharts.Of(series, options, scale, model, trend, stretch);
        var standing = Standing(model, stretch);
        var material = Math.Abs(standing) > 0 && IsMaterial(standing, model, trend, series, scale, options);
        var newest = model.Points.Length - 1;
        // After a step that was told the charts signal for what is known.
        var signals = chart.Points[^1] is { Cusum.Signals: true } or { Ewma.Signals: true };
        var isApart = model.IsOutlier[newest] || model.DeviationsOf(newest) > ApartDeviations;
        var isWatched = isApart || (signals && !steps.Any(step => !step.IsExplained));
        var kind = isSlow ? DriftKind.SlowChange
            : standing != 0 ? DriftKind.UnexplainedStep
            : isWatched ? DriftKind.Watch
            : DriftKind.Steady;
        var towards = isSlow ? crossings.FirstOrDefault(crossing => crossing.IsUpper == trend.Slope > 0) : null;
        var visitBy = towards?.Earliest is { } earliest ? Sooner(earliest, options.LeadDays) : (DateTimeOffset?)null;
        var now = model.Points[newest].At;
        var asks = DaysAfter(now, visitBy) <= Gap(model, stretch) || DaysAfter(now, towards?.Likely) <= options.HorizonDays;
        var rate = scale.IsRatio
            ? new DriftRate(
                scale.Back(trend.Slope), scale.Back(trend.Slope - trend.Below), scale.Back(trend.Slope + trend.Above), options.Confidence)
            : new DriftRate(trend.Slope, trend.Slope - trend.Below, trend.Slope + trend.Above, options.Confidence);
        var finding = new DriftFinding
        {
            Kind = kind,
            Text = "",
            Assumes = DriftWords.Assumptions(series, options, model),
            Rate = rate,
            Trend = trend.Test,
            ChangesSince = isSlow && trend.From > stretch ? model.Points[trend.From].At : null,
            Steps = steps,
            Crossings = crossings,
            AsksForVisit = asks || material,
            VisitBy = visitBy,
            PointDeviation = trend.Deviation,
            Visits = read.Visits,
            Repeated = read.Repeated,
            Unusable = read.Unusable,
            Meters = Meters(model),
            Chart = chart,
        };
        return finding with { Text = DriftWords.Of(finding, series, isApart) };
    }

    // What sudden changes without work come to together: those that came and went come to nothing.
    private static double Standing(DriftModel model, int stretch)
    {
        double sum = 0, largest = 0;
        var factors = new double[model.Columns.Count];
        for (var c = 0; c < factors.Length; c++)
        {
            var column = model.Columns[c];
            if (column.Effect != DriftEffect.Step || column.From < stretch) continue;
            factors[c] = 1;
            sum += model.Fit.Beta[c];
            largest = Math.Max(largest, Math.Abs(model.Fit.Beta[c]));
        }

        var fit = model.Fit;
        var deviation = Math.Sqrt(fit.VarianceOf(factors) * model.Scale(fit.Squares, fit.Freedom));
        return Math.Abs(sum) > Math.Max(StandingShare * largest, StandingDeviations * deviation) ? sum : 0;
    }

    private static bool IsMaterial(
        double standing, DriftModel model, DriftTrend trend, DriftSeries series, DriftScale scale, DriftOptions options)
    {
        if ((standing > 0 ? series.HighLimit : series.LowLimit) is not { } limit || !scale.IsUsable(limit)) return true;
        var newest = model.Points[^1];
        var before = trend.At(newest.Years) - standing;
        var way = scale.Of(limit) - (newest.Expected is { } expected ? scale.Of(expected) : 0) - before;
        return Math.Abs(standing) >= options.MaterialShare * Math.Abs(way);
    }

    private static double? DaysAfter(DateTimeOffset now, DateTimeOffset? then) => (then - now)?.TotalDays;

    private static DateTimeOffset Sooner(DateTimeOffset at, double days) =>
        at.UtcTicks > days * TimeSpan.TicksPerDay ? at.AddDays(-days) : at;

    // The usual time between visits.
    private static double Gap(DriftModel model, int stretch)
    {
        List<double> gaps = [];
        for (var i = stretch + 1; i < model.Points.Length; i++)
            if (model.DaysBetween(i - 1, i) > 0) gaps.Add(model.DaysBetween(i - 1, i));
        gaps.Sort();
        return gaps.Count == 0 ? 0 : Math.Min(gaps[gaps.Count / 2], 366);
    }

    private static ImmutableArray<DriftStep> Steps(DriftModel model, DriftWorks works, DriftScale scale)
    {
        List<(int At, DriftStep Step)> steps = [];
        for (var c = 0; c < model.Columns.Count; c++)
        {
            var column = model.Columns[c];
            if (column.Effect != DriftEffect.Step) continue;
            steps.Add((column.From, StepOf(column.From, model.Fit.Beta[c], false, "")));
        }

        foreach (var (from, until) in works.Stretches.Skip(1))
        {
            var before = Mean(model, works.Stretches.Last(stretch => stretch.Until == from).From, from, newest: true);
            var after = Mean(model, from, until, newest: false);
            if (double.IsNaN(before) || double.IsNaN(after)) continue;
            steps.Add((from, StepOf(from, after - before, true, works.WorkAt(from).What)));
        }

        return [.. steps.OrderBy(step => step.At).Select(step => step.Step)];

        DriftStep StepOf(int at, double size, bool isExplained, string work) => new(
            model.Points[at - 1].At, model.Points[at].At, scale.IsRatio ? scale.Back(size) : size, isExplained, work);
    }

    // The mean of up to three points next to a work.
    private static double Mean(DriftModel model, int from, int until, bool newest)
    {
        var counting = Enumerable.Range(from, until - from).Where(i => !model.IsOutlier[i]);
        var near = (newest ? counting.TakeLast(3) : counting.Take(3)).ToList();
        return near.Count == 0 ? double.NaN : near.Average(i => model.Adjusted(i, withSteps: false));
    }

    private static ImmutableArray<MeterOffset> Meters(DriftModel model)
    {
        var meters = ImmutableArray.CreateBuilder<MeterOffset>();
        for (var c = 0; c < model.Columns.Count; c++)
        {
            var column = model.Columns[c];
            if (column.Effect != DriftEffect.Meter) continue;
            var percent = 0.0;
            for (var i = 0; i < model.Points.Length && percent == 0; i++)
                if (model.Points[i].MeterId == column.Of) percent = 100 * model.Points[i].GainShare * model.Fit.Beta[c];
            meters.Add(new(column.Of.StartsWith("id ", StringComparison.Ordinal) ? column.Of[3..] : "", percent));
        }

        return meters.ToImmutable();
    }
}
