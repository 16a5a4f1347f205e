using System.Text.Json;

namespace FleetLight.Electrics.Tests.Judgements;

public class JudgeAllTests
{
    private static readonly CircuitModel Model = Some.Series(1.6, 1.6, 1.6, 1.6, 1.6, 1.6) with
    {
        Runs = [Some.Run("driver", "f1", 40, 1.5)],
    };

    private static readonly ExpectedReadings Expectation = Some.Readings(Model);

    private static readonly MeterAccuracy Fine = new(0.1, 1, 0.001);

    [Fact]
    public void Readings_as_expected_are_within_together()
    {
        var verdict = Judge(Volts("driver", 1), Volts("f1", 1), Milliamps(1));
        Assert.Equal((VerdictKind.Within, 3), (verdict.Kind, verdict.Compared));
        Assert.InRange(verdict.SquaredDistance!.Value, 0, 0.01);
        Assert.InRange(verdict.ShareFartherOff!.Value, 0.99, 1);
        Assert.InRange(verdict.ProbabilityAsDesigned!.Value, 0.99, 1);
        Assert.Equal(3, verdict.Each.Length);
        Assert.StartsWith("Together as they should be", verdict.Text, StringComparison.Ordinal);
        var stored = JsonSerializer.Serialize(verdict);
        Assert.Equal(stored, JsonSerializer.Serialize(JsonSerializer.Deserialize<JointVerdict>(stored)));
    }

    /// <summary>
    /// The driver's volts are those of all fittings and the cable: a driver that reads high while every fitting reads low
    /// cannot be.
    /// </summary>
    [Fact]
    public void Readings_that_are_each_within_may_contradict_one_another()
    {
        MeasuredReading[] low = [.. Enumerable.Range(1, 6).Select(i => Volts($"f{i}", 0.97, Fine))];
        var high = Volts("driver", 1.03, Fine);
        foreach (var reading in low.Append(high))
            Assert.Equal(VerdictKind.Within, Verdicts.Judge(Expectation, reading).Kind);
        var verdict = Judge([.. low, high]);
        Assert.Equal(VerdictKind.Outside, verdict.Kind);
        Assert.Equal(6, verdict.LeastFitting);
        Assert.Contains("at driver", verdict.Text, StringComparison.Ordinal);
        Assert.InRange(verdict.ProbabilityAsDesigned!.Value, 0, 0.01);
    }

    [Fact]
    public void One_reading_is_judged_as_on_its_own()
    {
        foreach (var factor in (double[])[1, 1.07, 0.5])
        {
            var alone = Verdicts.Judge(Expectation, Volts("driver", factor));
            var verdict = Judge(Volts("driver", factor));
            Assert.Equal((alone.Kind, alone.Text, 1), (verdict.Kind, verdict.Text, verdict.Compared));
            Assert.Equal(alone.ProbabilityAsDesigned, verdict.ProbabilityAsDesigned);
        }
    }

    [Fact]
    public void The_same_reading_sent_many_times_is_no_more_than_one()
    {
        var reading = Volts("driver", 1.045);
        var once = Judge(reading);
        var often = Judge([.. Enumerable.Repeat(reading, 20)]);
        Assert.Equal((once.Kind, 1), (often.Kind, often.Compared));
        Assert.Equal(once.ProbabilityAsDesigned!.Value, often.ProbabilityAsDesigned!.Value, 1e-9);
        Assert.Equal(20, often.Each.Length);
    }

    [Fact]
    public void The_current_of_a_loop_at_two_places_is_one_quantity() =>
        Assert.Equal(1, Judge(Milliamps(1), Milliamps(1.01) with { Place = "f3" }).Compared);

    [Fact]
    public void What_does_not_reach_its_minimum_spoils_the_set()
    {
        var low = new MeasuredReading("driver", MeasuredQuantity.MegohmsInsulation, 0.2);
        var verdict = Judge(Volts("driver", 1), low, Volts("f1", 1));
        Assert.Equal((VerdictKind.Outside, VerdictReason.ComparedWithMinimum, 2),
            (verdict.Kind, verdict.Reason, verdict.Compared));
        Assert.Equal(VerdictKind.Outside, Judge(low).Kind);
        Assert.Equal(VerdictKind.Within, Judge(low with { Value = 20 }).Kind);
    }

    [Fact]
    public void Nothing_to_judge_is_said()
    {
        Assert.Equal(VerdictReason.BadReading, Verdicts.JudgeAll(Model, null).Reason);
        Assert.Equal(VerdictReason.BadReading, Judge(Volts("driver", double.NaN)).Reason);
        Assert.Equal(VerdictReason.NothingExpected, Verdicts.JudgeAll(null, []).Reason);
        Assert.Equal(VerdictReason.NothingExpected, Verdicts.JudgeAll(Some.Series(), [Volts("driver", 1)]).Reason);
        Assert.Equal(
            VerdictReason.BadRule,
            Verdicts.JudgeAll(Model, [Volts("driver", 1)], new DecisionRule { PriorAsDesigned = 2 }).Reason);
    }

    [Fact]
    public void A_meter_without_any_error_has_an_answer()
    {
        var exact = new MeterAccuracy(0, 0, 0);
        Assert.Equal(VerdictKind.Within, Judge(Volts("driver", 1, exact), Volts("f1", 1, exact)).Kind);
        Assert.Equal(VerdictKind.Outside, Judge(Volts("driver", 2, exact), Volts("f1", 0.5, exact)).Kind);
    }

    [Fact]
    public void More_places_than_are_compared_leave_the_newest()
    {
        var model = Some.Series([.. Enumerable.Repeat(1.6, 80)]);
        var reads = Some.Readings(model);
        var readings = reads.Fittings
            .Select(f => new MeasuredReading(f.FittingId, MeasuredQuantity.VoltsDc, f.VoltsDc.Best)).ToArray();
        var verdict = Verdicts.JudgeAll(model, readings);
        Assert.Equal((64, 80, VerdictKind.Within), (verdict.Compared, verdict.Each.Length, verdict.Kind));
    }

    /// <summary>Mean of repeated readings: Student's interval t·s/√n (GUM 4.2, G.3) where nothing else is uncertain.</summary>
    [Theory]
    [InlineData(2)]
    [InlineData(5)]
    [InlineData(30)]
    public void Repeated_readings_are_judged_by_mean_and_scatter(int count)
    {
        var bare = Some.Series(1.6, 1.6) with
        {
            Driver = new DriverModel { RatedMilliamps = 350, OutputTolerancePercent = 0 },
        };
        bare = bare with { Fittings = [.. bare.Fittings.Select(f => f with { TolerancePercent = 0 })] };
        var expected = Some.Readings(bare, Some.Bare);
        var random = new Random(count);
        double[] values = [.. Enumerable.Range(0, count).Select(_ => 9 + random.NextDouble())];
        var mean = MeasuredReading.MeanOf(Some.DriverVolts(0) with { Meter = new MeterAccuracy(0, 0, 0) }, values);
        var sigma = Math.Sqrt(values.Sum(v => (v - values.Average()) * (v - values.Average())) / (count - 1));
        Assert.Equal(values.Average(), mean.Value, 1e-12);
        Assert.Equal(sigma / Math.Sqrt(count), mean.Scatter!.Value.StandardUncertainty, 1e-12);
        Assert.Equal(count - 1, mean.Scatter.Value.DegreesOfFreedom);
        var verdict = Verdicts.Judge(expected, mean);
        var t = MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, count - 1, 0.975);
        Assert.Equal(t * sigma / Math.Sqrt(count), verdict.High!.Value - verdict.Expected!.Value, 1e-6);
        Assert.Equal(
            VerdictReason.BadReading,
            Verdicts.Judge(expected, mean with { Scatter = new ReadingScatter(double.NaN, 1) }).Reason);
    }

    private static JointVerdict Judge(params MeasuredReading[] readings) => Verdicts.JudgeAll(Model, readings);

    private static MeasuredReading Volts(string place, double factor, MeterAccuracy? meter = null) => new(
        place, MeasuredQuantity.VoltsDc,
        factor * Verdicts.EstimateFor(Expectation, place, MeasuredQuantity.VoltsDc)!.Best)
    { Meter = meter };

    private static MeasuredReading Milliamps(double factor) =>
        new("driver", MeasuredQuantity.Milliamps, factor * Expectation.DriverMilliamps.Best);
}
