using System.Text.Json;

namespace FleetLight.Electrics.Tests.Drifts;

public class DriftTests
{
    private static readonly DateTimeOffset Start = Rows.Start;

    [Fact]
    public void Nothing_at_all_is_refused_by_name()
    {
        Assert.Equal(DriftRefusal.NothingGiven, Refused(null).Reason);
        Assert.Equal(DriftRefusal.TooFewVisits, Refused(new(MeasuredQuantity.VoltsDc, default)).Reason);
        Assert.Equal(DriftRefusal.TooFewVisits, Refused(new(MeasuredQuantity.VoltsDc, [])).Reason);
    }

    [Fact]
    public void Too_few_visits_and_too_short_a_span_are_refused_by_name()
    {
        var row = Line(12, 0.5);
        var few = Refused(row with { Readings = row.Readings[..5] });
        Assert.Equal(DriftRefusal.TooFewVisits, few.Reason);
        Assert.Equal((5, 6), (few.Visits, few.VisitsNeeded));
        var quick = row with { Readings = [.. row.Readings.Select((r, i) => r with { At = Start.AddDays(5 * i) })] };
        Assert.Equal(DriftRefusal.SpanTooShort, Refused(quick).Reason);
    }

    [Fact]
    public void A_steady_row_is_steady()
    {
        var found = Found(Line(18, 0));
        Assert.Equal(DriftKind.Steady, found.Kind);
        Assert.False(found.AsksForVisit);
        Assert.Null(found.VisitBy);
        Assert.Empty(found.Steps);
        Assert.True(found.Rate.Low < 0 && found.Rate.High > 0);
        Assert.Contains("Steady", found.Text, StringComparison.Ordinal);
        Assert.All(found.Crossings, crossing => Assert.Null(crossing.Latest));
    }

    [Fact]
    public void A_line_is_told_with_its_rate_and_its_crossing()
    {
        // 0.9 V a year from 30.8 V: it comes to 32.4 V after 649 days.
        var found = Found(Line(16, 0.9));
        Assert.Equal(DriftKind.SlowChange, found.Kind);
        Assert.Equal(0.9, found.Rate.PerYear, 0.1);
        Assert.InRange(0.9, found.Rate.Low, found.Rate.High);
        var upper = found.Crossings.Single(crossing => crossing.IsUpper);
        Assert.Equal(649, (upper.Likely!.Value - Start).TotalDays, 60.0);
        Assert.True(upper.Earliest < upper.Likely && upper.Likely < upper.Latest);
        Assert.Equal(upper.Earliest!.Value.AddDays(-60), found.VisitBy);
        Assert.True(found.AsksForVisit);
        Assert.Null(found.Crossings.Single(crossing => !crossing.IsUpper).Likely);
        Assert.Contains("rises slowly", found.Text, StringComparison.Ordinal);
        Assert.Contains("32.4 V between", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_crossing_far_ahead_asks_for_no_visit()
    {
        var found = Found(Line(24, 0.3) with { HighLimit = 40, LowLimit = 20 });
        Assert.Equal(DriftKind.SlowChange, found.Kind);
        Assert.False(found.AsksForVisit);
        Assert.Equal(31, (found.Crossings.Single(crossing => crossing.IsUpper).Likely!.Value - Start).TotalDays / 365.25, 6.0);
    }

    [Fact]
    public void A_falling_line_comes_to_the_lower_limit()
    {
        var found = Found(Line(16, -0.9));
        Assert.Contains("falls slowly", found.Text, StringComparison.Ordinal);
        Assert.Equal(649, (found.Crossings.Single(crossing => !crossing.IsUpper).Likely!.Value - Start).TotalDays, 60.0);
    }

    [Fact]
    public void What_is_past_its_limit_says_so()
    {
        var found = Found(Line(24, 1.2));
        Assert.True(found.AsksForVisit);
        Assert.Contains("has come to the limit", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_change_that_begins_late_is_told_from_there()
    {
        var found = Found(Line(24, 0, day => Math.Max(0, day - 400) * 1.5 / 365.25));
        Assert.Equal(DriftKind.SlowChange, found.Kind);
        Assert.Equal(400, (found.ChangesSince!.Value - Start).TotalDays, 70.0);
        Assert.Equal(1.5, found.Rate.PerYear, 0.4);
    }

    [Fact]
    public void Order_and_repetition_change_nothing()
    {
        var row = new Rows(new Random(4)) { Meters = 3, Change = day => 0.001 * day }.Of(20);
        var shuffled = row.Readings.Concat(row.Readings[5..12]).ToArray();
        new Random(9).Shuffle(shuffled);
        var (one, other) = (Found(row), Found(row with { Readings = [.. shuffled] }));
        Assert.Equal(7, other.Repeated);
        Assert.Equal(Json(one), Json(other with { Repeated = 0 }));
    }

    [Fact]
    public void Readings_of_one_visit_count_once()
    {
        var row = Line(12, 0.6);
        var often = row with
        {
            Readings = [.. row.Readings.SelectMany(r => Enumerable.Range(0, 5).Select(i => r with { At = r.At.AddMinutes(i), Value = r.Value + (0.001 * (i - 2)) }))],
        };
        var (one, other) = (Found(row), Found(often));
        Assert.Equal(one.Visits, other.Visits);
        Assert.Equal(one.Rate.PerYear, other.Rate.PerYear, 1e-3);
        Assert.Equal(one.Rate.High, other.Rate.High, 0.02);
    }

    /// <summary>
    /// A meter within ± 1 % may read 0.31 V more at 31 V: half of that after another meter is no step, while the same
    /// change by one and the same meter is.
    /// </summary>
    [Fact]
    public void Another_meter_is_not_a_step()
    {
        var row = Line(20, 0);
        DriftSeries With(Func<int, string> meter, double percent) => row with
        {
            Readings = [.. row.Readings.Select((r, i) => r with
            {
                MeterId = meter(i),
                Value = r.Value + (i < 10 ? 0 : 0.35),
                Meter = new MeterAccuracy(percent, 3, 0.01),
            })],
        };
        Assert.Equal(DriftKind.Steady, Found(With(i => i < 10 ? "a" : "b", 1)).Kind);
        Assert.Equal(DriftKind.UnexplainedStep, Found(With(_ => "a", 1)).Kind);
        // Meters as good as that do not explain it.
        Assert.Equal(DriftKind.UnexplainedStep, Found(With(i => i < 10 ? "a" : "b", 0.05)).Kind);
    }

    [Fact]
    public void The_offset_of_a_meter_is_estimated()
    {
        var row = Line(20, 0);
        var found = Found(row with
        {
            Readings = [.. row.Readings.Select((r, i) => r with { MeterId = i % 2 == 0 ? "good" : "high", Value = r.Value * (i % 2 == 0 ? 1 : 1.008) })],
        });
        Assert.Equal(DriftKind.Steady, found.Kind);
        Assert.Equal(0.8, found.Meters.Single(m => m.MeterId == "high").Percent - found.Meters.Single(m => m.MeterId == "good").Percent, 0.15);
    }

    [Fact]
    public void A_step_without_work_is_told()
    {
        var found = Found(Line(20, 0, day => day < 300 ? 0 : 0.7));
        Assert.Equal(DriftKind.UnexplainedStep, found.Kind);
        Assert.True(found.AsksForVisit);
        var step = Assert.Single(found.Steps);
        Assert.Equal(0.7, step.Size, 0.1);
        Assert.False(step.IsExplained);
        Assert.True(step.After < Start.AddDays(300) && step.Before >= Start.AddDays(300));
        Assert.Contains("no recorded work explains it", found.Text, StringComparison.Ordinal);
        Assert.Contains(found.Chart.Points, point => point.Cusum?.Signals == true);
    }

    [Fact]
    public void A_step_that_comes_and_goes_is_told_but_asks_for_nothing()
    {
        var found = Found(Line(24, 0, day => day is > 200 and < 400 ? 0.7 : 0));
        Assert.Equal(2, found.Steps.Length);
        Assert.Equal(DriftKind.Steady, found.Kind);
        Assert.False(found.AsksForVisit);
    }

    [Fact]
    public void A_step_after_recorded_work_is_explained()
    {
        var row = Line(20, 0, day => day < 300 ? 0.7 : 0) with { Works = [new(Start.AddDays(298), "Joint made again.")] };
        var found = Found(row);
        Assert.Equal(DriftKind.Steady, found.Kind);
        Assert.False(found.AsksForVisit);
        var step = Assert.Single(found.Steps);
        Assert.True(step.IsExplained);
        Assert.Equal(-0.7, step.Size, 0.1);
        Assert.Equal("Joint made again.", step.Work);
    }

    [Fact]
    public void A_repair_that_helps_ends_the_drift()
    {
        var mended = new RecordedWork(Start.AddDays(420), "Joint made again.");
        var row = Line(16, 0, day => day > 420 ? 0 : day * 0.9 / 365.25) with { Works = [mended] };
        Assert.Equal(DriftKind.SlowChange, Found(row with { Readings = row.Readings[..14] }).Kind);
        // The first reading after the repair lies off the old line.
        var after = Refused(row with { Readings = row.Readings[..15] });
        Assert.Equal(DriftRefusal.TooFewSinceWork, after.Reason);
        Assert.Equal(1, after.Visits);
        Assert.Contains("Joint made again.", after.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_repair_that_does_not_help_does_not_end_the_drift()
    {
        var row = Line(16, 0.9) with { Works = [new(Start.AddDays(420), "Cleaned.")] };
        for (var n = 12; n <= 16; n++)
        {
            var found = Found(row with { Readings = row.Readings[..n] });
            Assert.Equal(DriftKind.SlowChange, found.Kind);
            Assert.True(found.AsksForVisit);
        }
    }

    [Fact]
    public void A_changed_design_joins_by_the_deviation()
    {
        var row = Line(24, 0.4);
        var changed = row with
        {
            Readings = [.. row.Readings.Select((r, i) => r with
            {
                DesignId = i < 12 ? "1" : "2",
                Expected = r.Expected + (i < 12 ? 0 : 4.6),
                Value = r.Value + (i < 12 ? 0 : 4.75),
                ExpectedStandardUncertainty = 0.3,
            })],
            LowLimit = row.LowLimit + 4.6,
            HighLimit = row.HighLimit + 4.6,
        };
        var found = Found(changed);
        Assert.Equal(DriftKind.SlowChange, found.Kind);
        Assert.Equal(0.4, found.Rate.PerYear, 0.15);
        Assert.DoesNotContain(found.Steps, step => !step.IsExplained);
        Assert.Contains(found.Assumes, text => text.Contains("design", StringComparison.Ordinal));
    }

    [Fact]
    public void A_wild_value_is_left_out_and_the_newest_one_asks_to_read_again()
    {
        var row = Line(18, 0);
        var typed = row with { Readings = row.Readings.SetItem(9, row.Readings[9] with { Value = 308 }) };
        var found = Found(typed);
        Assert.Equal(DriftKind.Steady, found.Kind);
        Assert.Equal([9], found.Chart.Points.Select((point, i) => point.IsOutlier ? i : -1).Where(i => i >= 0));
        var newest = Found(row with { Readings = row.Readings.SetItem(17, row.Readings[17] with { Value = 29.5 }) });
        Assert.Equal(DriftKind.Watch, newest.Kind);
        Assert.False(newest.AsksForVisit);
        Assert.Contains("Read again", newest.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_in_a_row_that_agree_are_a_step()
    {
        var row = Line(18, 0);
        var two = Found(row with { Readings = [.. row.Readings.Select((r, i) => i < 16 ? r : r with { Value = r.Value - 1.2 })] });
        Assert.Equal(DriftKind.UnexplainedStep, two.Kind);
    }

    /// <summary>Half a year from January to July: 31 V of LEDs fall by 0.5 V for the warmth alone.</summary>
    [Fact]
    public void Half_a_year_of_warming_is_no_drift()
    {
        var row = new Rows(new Random(2)) { EveryDays = 22, Meters = 1 };
        var found = Found(row.Of(9));
        Assert.NotEqual(DriftKind.SlowChange, found.Kind);
        Assert.Contains(found.Assumes, text => text.Contains("yearly swing", StringComparison.Ordinal));
    }

    /// <summary>
    /// Loop resistance by IEC 60028: 0.393 %/K about 20 °C. With the conductor's temperature recorded a loop that only
    /// warms up is steady, and what is left of it is the reading at the reference temperature.
    /// </summary>
    [Fact]
    public void Recorded_temperatures_are_taken_out_of_copper()
    {
        DriftReading Loop(int visit)
        {
            var celsius = 4 + (1.5 * visit);
            return new(Start.AddDays(30 * visit), 12.0 * (1 + (0.00393 * (celsius - 20)))) { Expected = 12, Celsius = celsius };
        }

        var series = new DriftSeries(MeasuredQuantity.LoopOhms, [.. Enumerable.Range(0, 14).Select(Loop)]);
        var found = Found(series, DriftOptions.Default with { ReferenceCelsius = 20 });
        Assert.Equal(DriftKind.Steady, found.Kind);
        Assert.Equal(0, found.Rate.PerYear, 0.01);
        Assert.All(found.Chart.Points, point => Assert.Equal(12.0, point.Adjusted, 0.05));
        // Without the temperatures the same readings may be a season.
        Assert.NotEqual(0, Found(series with { Readings = [.. series.Readings.Select(r => r with { Celsius = null })] }).Rate.PerYear, 0.1);
    }

    [Fact]
    public void Insulation_is_looked_at_by_its_ratio()
    {
        // It halves every 200 days from 60 MΩ, and comes to 0.5 MΩ after 1,381 days.
        var random = new Random(8);
        var series = new DriftSeries(MeasuredQuantity.MegohmsInsulation,
            [.. Enumerable.Range(0, 14).Select(i => new DriftReading(
                Start.AddDays(60 * i), 60 * Math.Pow(2, -60 * i / 200.0) * Math.Exp(0.1 * Rows.Normal(random))))])
        {
            LowLimit = 0.5,
        };
        var found = Found(series);
        Assert.Equal(DriftKind.SlowChange, found.Kind);
        Assert.Equal(Math.Pow(2, -365.25 / 200), found.Rate.PerYear, 0.06);
        Assert.True(found.Rate.Low < found.Rate.PerYear && found.Rate.PerYear < found.Rate.High);
        Assert.Equal(1381, (Assert.Single(found.Crossings).Likely!.Value - Start).TotalDays, 120.0);
        Assert.Contains("falls slowly", found.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Missing_visits_widen_the_interval_but_do_not_move_it()
    {
        var row = Line(30, 0.5);
        var gaps = row with { Readings = [.. row.Readings.Where((_, i) => i % 3 == 0 || i > 26)] };
        var (all, some) = (Found(row), Found(gaps));
        Assert.Equal(0.5, some.Rate.PerYear, 0.15);
        Assert.True(some.Rate.High - some.Rate.Low > all.Rate.High - all.Rate.Low);
    }

    [Fact]
    public void Unusable_readings_are_counted_and_left_out()
    {
        var row = Line(12, 0);
        var found = Found(row with
        {
            Readings =
            [
                .. row.Readings, null!, row.Readings[3] with { Value = double.NaN }, row.Readings[3] with { Expected = null },
                row.Readings[3] with { Meter = new MeterAccuracy(-1, 0, 0) },
            ],
        });
        Assert.Equal(4, found.Unusable);
        Assert.Equal(12, found.Visits);
    }

    [Fact]
    public void Without_what_is_expected_readings_are_compared_with_one_another()
    {
        var row = Line(16, 0.9);
        var found = Found(row with { Readings = [.. row.Readings.Select(r => r with { Expected = null })] });
        Assert.Equal(0.9, found.Rate.PerYear, 0.1);
        Assert.Contains(found.Assumes, text => text.Contains("not given", StringComparison.Ordinal));
        Assert.Equal(649, (found.Crossings[1].Likely!.Value - Start).TotalDays, 60.0);
    }

    [Fact]
    public void The_chart_shows_points_lines_and_limits()
    {
        var row = Line(18, 0, day => day < 300 ? 0 : 0.7) with { Works = [new(Start.AddDays(299), "Repair.")] };
        var chart = Found(row).Chart;
        Assert.Equal(row.Readings.Select(r => (r.At, r.Value)), chart.Points.Select(p => (p.At, p.Value)));
        Assert.Equal((row.LowLimit, row.HighLimit), (chart.LowLimit, chart.HighLimit));
        Assert.All(chart.Points, p => Assert.InRange(p.Adjusted, p.Low, p.High));
        Assert.All(chart.Points, p => Assert.InRange(p.Centre, p.Low, p.High));
        // The control charts start anew with the work.
        Assert.All(chart.Points, p => Assert.Equal(p.At >= Start.AddDays(299), p.Cusum is not null));
        Assert.All(chart.Points, p => Assert.Equal(p.Cusum is null, p.Ewma is null));
    }

    [Fact]
    public void A_finding_can_be_stored()
    {
        foreach (var outcome in new[] { Drift.Of(Line(18, 0.9)), Drift.Of(null) })
            Assert.Equal(Json(outcome), Json(JsonSerializer.Deserialize<DriftOutcome>(Json(outcome))!));
    }

    // A row at 30.4 days, with the scatter of a good meter in mild weather, limits ± 1.6 V about 30.8 V.
    private static DriftSeries Line(int visits, double voltsPerYear, Func<double, double>? change = null) =>
        new Rows(new Random(17))
        {
            Truth = 30.8,
            SwingKelvin = 0,
            WeatherKelvin = 0.8,
            Noise = 0.02,
            Thermometer = true,
            Change = change ?? (day => voltsPerYear * day / 365.25),
        }.Of(visits);

    private static DriftFinding Found(DriftSeries series, DriftOptions? options = null) =>
        Assert.IsType<DriftFinding>(Drift.Of(series, options));

    private static CannotTellDrift Refused(DriftSeries? series) => Assert.IsType<CannotTellDrift>(Drift.Of(series));

    private static string Json(DriftOutcome outcome) => JsonSerializer.Serialize(outcome);
}
