using System.Text.Json;

namespace FleetLight.Electrics.Tests.Judgements;

public class VerdictTests
{
    private static readonly ExpectedReadings Expectation = Some.Readings(Some.Series(1.6, 1.6, 1.6, 1.6, 1.6, 1.6));

    [Fact]
    public void The_verdict_falls_from_within_to_outside_as_the_reading_moves_away()
    {
        var best = Expectation.DriverVoltsDc.Best;
        var kinds = Enumerable.Range(0, 100).Select(i => JudgeVolts(best + (0.05 * i)).Kind).ToArray();
        Assert.Equal(VerdictKind.Within, kinds[0]);
        Assert.Contains(VerdictKind.Doubtful, kinds);
        Assert.Equal(VerdictKind.Outside, kinds[^1]);
        Assert.Equal(kinds.Order(), kinds);
    }

    [Fact]
    public void The_interval_holds_design_and_meter_together()
    {
        var verdict = JudgeVolts(27.4);
        var design = Expectation.DriverVoltsDc.StandardUncertainty;
        var meter = ((27.4 * 0.01) + (3 * 0.01)) / Math.Sqrt(3);
        Assert.Equal(Math.Sqrt((design * design) + (meter * meter)), verdict.StandardUncertainty!.Value, 1e-12);
        Assert.True(verdict.Low < Expectation.DriverVoltsDc.Low95);
        Assert.True(verdict.High > Expectation.DriverVoltsDc.High95);
        Assert.Equal((27.4 - verdict.Expected!.Value) / verdict.StandardUncertainty.Value, verdict.Deviations);
    }

    /// <summary>
    /// ±(1 % + 3 counts) of 120 V on a 6000-count meter is ±1.5 V; ±(0.5 % + 1) of 1.755 V is ±0.010 V: published
    /// worked examples of meter makers. A limit divided by √3 is its standard uncertainty (GUM 4.3.7).
    /// </summary>
    [Theory]
    [InlineData(1, 3, 0.1, 120, 1.5)]
    [InlineData(0.5, 1, 0.001, 1.755, 0.009775)]
    [InlineData(1, 2, 0.1, 100, 1.2)]
    public void Meter_accuracy_is_percent_of_reading_and_digits(
        double percent, double digits, double resolution, double reading, double limit)
    {
        var meter = new MeterAccuracy(percent, digits, resolution);
        Assert.Equal(limit, meter.LimitAt(reading), 1e-9);
        Assert.Equal(limit / Math.Sqrt(3), meter.StandardUncertaintyAt(-reading), 1e-9);
    }

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity)]
    public void A_reading_that_is_no_number_cannot_be_judged(double volts)
    {
        var verdict = JudgeVolts(volts);
        Assert.Equal((VerdictKind.CannotBeJudged, VerdictReason.BadReading), (verdict.Kind, verdict.Reason));
        Assert.Null(verdict.Measured);
    }

    [Fact]
    public void A_place_or_quantity_without_expectation_cannot_be_judged()
    {
        Assert.Equal(VerdictReason.NotExpectedHere, Judge(new("nowhere", MeasuredQuantity.VoltsDc, 5)).Reason);
        Assert.Equal(VerdictReason.NotExpectedHere, Judge(new("f1", MeasuredQuantity.LoopOhms, 5)).Reason);
        Assert.Equal(VerdictReason.NotExpectedHere, Judge(new("driver", (MeasuredQuantity)77, 5)).Reason);
        Assert.Equal(VerdictReason.NotExpectedHere, Judge(new(null!, MeasuredQuantity.Milliamps, 5)).Reason);
    }

    [Fact]
    public void A_meter_out_of_range_cannot_be_judged() => Assert.Equal(
        VerdictReason.BadMeter, Judge(Some.DriverVolts(9) with { Meter = new MeterAccuracy(double.NaN, 1, 1) }).Reason);

    [Fact]
    public void Without_an_expectation_the_verdict_says_why()
    {
        var refusal = Expected.Of(Some.Series());
        var verdict = Verdicts.Judge(refusal, Some.DriverVolts(9));
        Assert.Equal((VerdictKind.CannotBeJudged, VerdictReason.NothingExpected), (verdict.Kind, verdict.Reason));
        Assert.Equal("The circuit has no fitting.", verdict.Text);
        Assert.Equal(VerdictReason.NothingExpected, Verdicts.Judge(null, Some.DriverVolts(9)).Reason);
        Assert.Equal(VerdictReason.BadReading, Verdicts.Judge(refusal, null).Reason);
    }

    [Fact]
    public void The_current_of_a_series_loop_may_be_measured_anywhere() =>
        Assert.Equal(VerdictKind.Within, Judge(new("box-7", MeasuredQuantity.Milliamps, 351)).Kind);

    [Theory]
    [InlineData(20, VerdictKind.Within)]
    [InlineData(0.52, VerdictKind.Doubtful)]
    [InlineData(0.3, VerdictKind.Outside)]
    public void Insulation_is_judged_against_its_minimum(double megohms, VerdictKind kind)
    {
        var verdict = Judge(new("driver", MeasuredQuantity.MegohmsInsulation, megohms));
        Assert.Equal((kind, VerdictReason.ComparedWithMinimum), (verdict.Kind, verdict.Reason));
        Assert.Equal(0.5, verdict.Low);
    }

    [Fact]
    public void With_no_uncertainty_at_all_only_the_exact_value_is_within()
    {
        var bare = Some.Series(1.6, 1.6);
        bare = bare with
        {
            Driver = new DriverModel { RatedMilliamps = 350, OutputTolerancePercent = 0 },
            Fittings = [.. bare.Fittings.Select(f => f with { TolerancePercent = 0 })],
        };
        var expected = Some.Readings(bare, Some.Bare);
        var meter = new MeterAccuracy(0, 0, 0);
        var exact = Some.DriverVolts(expected.DriverVoltsDc.Best) with { Meter = meter };
        Assert.Equal(VerdictKind.Within, Verdicts.Judge(expected, exact).Kind);
        var off = Verdicts.Judge(expected, exact with { Value = exact.Value + 0.001 });
        Assert.Equal(VerdictKind.Outside, off.Kind);
        Assert.Null(off.Deviations);
    }

    [Fact]
    public void Text_says_what_was_read_and_what_was_expected()
    {
        Assert.StartsWith("As it should be: 27.4 V against 27.4 ±", JudgeVolts(27.4).Text, StringComparison.Ordinal);
        Assert.StartsWith("Well below what it should be", JudgeVolts(10).Text, StringComparison.Ordinal);
        Assert.StartsWith("Well above what it should be", JudgeVolts(40).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Expectations_and_verdicts_survive_being_stored_as_JSON()
    {
        var tree = Some.Readings(Some.SixNodeTree());
        foreach (var readings in new[] { Expectation, tree })
        {
            var stored = JsonSerializer.Serialize(readings);
            var back = JsonSerializer.Deserialize<ExpectedReadings>(stored)!;
            Assert.Equal(stored, JsonSerializer.Serialize(back));
            Assert.Equal(Verdicts.Judge(readings, Some.DriverVolts(12)), Verdicts.Judge(back, Some.DriverVolts(12)));
        }

        var verdict = JudgeVolts(10);
        Assert.Equal(verdict, JsonSerializer.Deserialize<Verdict>(JsonSerializer.Serialize(verdict)));
        var model = Some.SixNodeTree();
        Assert.Equal(
            JsonSerializer.Serialize(tree),
            JsonSerializer.Serialize(Some.Readings(
                JsonSerializer.Deserialize<CircuitModel>(JsonSerializer.Serialize(model))!)));
    }

    [Fact]
    public void Leaving_out_the_budgets_of_the_parts_makes_it_smaller_and_changes_no_verdict()
    {
        var whole = Some.Readings(Some.SixNodeTree());
        var slim = whole.WithoutPartBudgets();
        var reading = new MeasuredReading("n3", MeasuredQuantity.VoltsDc, 11);
        Assert.Equal(Verdicts.Judge(whole, reading), Verdicts.Judge(slim, reading));
        Assert.True(2 * JsonSerializer.Serialize(slim).Length < JsonSerializer.Serialize(whole).Length);
        Assert.NotEmpty(slim.DriverVoltsDc.Budget);
    }

    private static Verdict JudgeVolts(double volts) => Judge(Some.DriverVolts(volts));

    private static Verdict Judge(MeasuredReading reading) => Verdicts.Judge(Expectation, reading);
}
