namespace FleetLight.Electrics;

/// <summary>Says whether readings over months drift, how fast, and when a limit will be crossed.</summary>
/// <remarks>
/// <para>
/// Readings are brought to their deviation from what was expected, and to a reference temperature where one is recorded.
/// Season (where none is), gain of each meter and what an expectation may be off by are estimated beside the level, each
/// held by what is known of it beforehand; so none of them can pass for a drift, and a span too short to tell a season
/// from a drift shows as a wide interval. Slopes, bends and steps are added one after the other where a t test corrected
/// for the number of places bears them out. The rate is the Theil–Sen slope of the points so adjusted, its interval
/// Kendall's widened by what the adjustment leaves open; a slow change is only told where the Mann–Kendall test agrees.
/// </para>
/// <para>Recorded work parts the series where the readings after it lie off the line of those before.</para>
/// </remarks>
public static class Drift
{
    // A bend or slope that the t test bears out is told only where ranks agree, at this chance.
    private const double RankChance = 0.1;

    // Work is said to have changed the reading where those after it lie so far off the line of those before.
    private const double WorkDeviations = 2;

    /// <summary>Looks for drift.</summary>
    /// <param name="series">The readings, in any order. Any content is answered.</param>
    /// <param name="options">How to look; the stated defaults if null.</param>
    /// <returns>A <see cref="DriftFinding"/> or a <see cref="CannotTellDrift"/>.</returns>
    public static DriftOutcome Of(DriftSeries? series, DriftOptions? options = null)
    {
        if (series is null) return new CannotTellDrift(DriftRefusal.NothingGiven, "No readings were given.", "readings");
        var sane = (options ?? DriftOptions.Default).Sane();
        var scale = DriftScale.For(series.Quantity);
        var read = DriftPoints.Of(series, scale, sane);
        if (read.Visits < sane.LeastVisits)
        {
            return new CannotTellDrift(
                DriftRefusal.TooFewVisits,
                $"Readings of {read.Visits} visits are known; it takes {sane.LeastVisits} to tell a drift from chance.",
                "readings")
            {
                Visits = read.Visits,
                VisitsNeeded = sane.LeastVisits,
            };
        }

        var days = read.Points[^1].Years * DriftPoints.DaysAYear;
        if (days < sane.LeastSpanDays)
        {
            return new CannotTellDrift(
                DriftRefusal.SpanTooShort,
                $"The readings span {Plain.Figure(days)} days; it takes {Plain.Figure(sane.LeastSpanDays)}.",
                "readings")
            {
                Visits = read.Visits,
                VisitsNeeded = sane.LeastVisits,
            };
        }

        return Look(series, sane, scale, read);
    }

    private static DriftOutcome Look(DriftSeries series, DriftOptions options, DriftScale scale, DriftPoints read)
    {
        var model = new DriftModel([.. read.Points], series, options);
        var works = DriftWorks.Of(series.Works, model.Points);
        model.LeaveOut(works.Pieces);
        works.Decide(model, WorkDeviations);
        model.Settle([.. model.Nuisances, .. works.Columns(model.Points.Length)]);
        var stretch = works.Stretches[^1].From;
        var search = new DriftSearch(model, options);
        if (!search.HasSlope(stretch, model.Points.Length))
        {
            var since = works.WorkAt(stretch);
            var visits = model.Counting(stretch, model.Points.Length);
            return new CannotTellDrift(
                DriftRefusal.TooFewSinceWork,
                $"What it reads changed with the work of {DriftWords.Day(since.At)}"
                    + $"{(since.What.Length > 0 ? $" ({since.What})" : "")}; since then there are {visits} readings over "
                    + $"{Plain.Figure(model.DaysBetween(stretch, model.Points.Length - 1))} days, which is too few.",
                "readings")
            {
                Visits = visits,
                VisitsNeeded = options.LeastVisits,
            };
        }

        search.Run(works.Stretches);
        var changes = model.Columns.ToList();
        if (!changes.Exists(column => column.Effect == DriftEffect.Slope && column.From == stretch))
        {
            model.Settle([.. changes, DriftColumn.SlopeOf(
                DriftEffect.Slope, model.Points, stretch, model.Points.Length)]);
        }

        var trend = DriftTrend.Of(model, stretch, options);
        var isSlow = changes.Exists(column =>
                column.Effect is DriftEffect.Slope or DriftEffect.Bend && column.From >= stretch)
            && trend.Test.Probability <= RankChance;
        return DriftReport.Of(series, options, scale, read, model, works, trend, isSlow);
    }
}
