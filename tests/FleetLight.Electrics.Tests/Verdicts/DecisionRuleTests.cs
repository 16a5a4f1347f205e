using System.Text.Json;
using FleetLight.Electrics.Tests.Uncertainties;

namespace FleetLight.Electrics.Tests.Judgements;

public class DecisionRuleTests
{
    private static readonly ExpectedReadings Expectation = Some.Readings(Some.Series(1.6, 1.6, 1.6, 1.6, 1.6, 1.6));

    private static readonly double Best = Expectation.DriverVoltsDc.Best;

    /// <summary>
    /// JCGM 106 clause 7.2 (example from memory): a diode breaks down at −5.47 V, u 0.05 V, against a limit of −5.40 V:
    /// conformance probability Φ(1.4) = 0.92.
    /// </summary>
    [Fact]
    public void Conformance_probability_of_JCGM_106() =>
        Assert.Equal(0.919, new Spread(0.05, 0, 0, 0).Below(-5.40 + 5.47), 0.001);

    /// <summary>The guard band w = 2 u leaves a risk of 2.3 % one-sided (JCGM 106 clause 8.3.2, w = r·U).</summary>
    [Fact]
    public void A_guard_band_of_the_expanded_uncertainty_leaves_the_known_risk() =>
        Assert.Equal(0.0228, new Spread(1, 0, 0, 0).Below(-2), 0.0001);

    [Fact]
    public void Defaults_are_as_stated()
    {
        var rule = DecisionRule.Default;
        Assert.Equal((0.003, 0.05, 0.9, null), (rule.GreatestRiskOfFailingGood, rule.GreatestRiskOfPassingBad,
            rule.PriorAsDesigned, rule.SmallestDifferencePercent));
        Assert.Equal(FaultCatalogue.Default.Single(fault => fault.Kind == FaultKind.AsDesigned).Prior, rule.PriorAsDesigned);
        Assert.Equal(Judge(27), Judge(27, rule));
        Assert.Equal(rule, JsonSerializer.Deserialize<DecisionRule>(JsonSerializer.Serialize(rule)));
    }

    [Fact]
    public void The_verdict_states_its_limits_and_keeps_to_them()
    {
        var verdict = Judge(Best);
        var accepted = verdict.Tolerance!.Value - verdict.GuardBand!.Value;
        // With nothing else to ask for, more is accepted than the tolerance, because the meter may have erred.
        Assert.True(verdict.GuardBand < 0);
        Assert.Equal(verdict.High!.Value - Best, accepted, 1e-9);
        Assert.True(verdict.OutsideBeyond > accepted);
        Assert.Equal(0.003, verdict.RiskOfFailingGood);
        Assert.InRange(verdict.RiskOfPassingBad!.Value, 0, 0.05);
        Assert.InRange(verdict.ProbabilityAsDesigned!.Value, 0.99, 1);
        foreach (var off in (double[])[0.2, 0.9, 0.99])
            Assert.Equal(VerdictKind.Within, Judge(Best - (off * accepted)).Kind);
        // The meter's error grows with the reading, and so do the limits.
        var doubtful = Judge(Best + (0.5 * (accepted + verdict.OutsideBeyond.Value)));
        Assert.Equal(VerdictKind.Doubtful, doubtful.Kind);
        Assert.Contains("Probability that it is as designed: ", doubtful.Text, StringComparison.Ordinal);
        Assert.Equal(VerdictKind.Outside, Judge(Best + (1.05 * verdict.OutsideBeyond.Value)).Kind);
    }

    [Theory]
    [InlineData(0.2)]
    [InlineData(0.01)]
    [InlineData(0.0001)]
    public void The_outer_limit_is_where_the_risk_of_failing_a_good_circuit_is_as_asked(double risk)
    {
        var verdict = Judge(Best, new DecisionRule { GreatestRiskOfFailingGood = risk });
        var spread = Expectation.DriverVoltsDc.Shape
            .WithRectangular(MeterAccuracy.DefaultFor(MeasuredQuantity.VoltsDc).StandardUncertaintyAt(Best));
        Assert.Equal(risk, spread.Beyond(verdict.OutsideBeyond!.Value), risk * 1e-6);
        Assert.True(verdict.Tolerance - verdict.GuardBand <= verdict.OutsideBeyond);
    }

    [Fact]
    public void A_smaller_risk_of_passing_a_bad_circuit_narrows_what_is_accepted()
    {
        var rule = new DecisionRule { SmallestDifferencePercent = 8 };
        var last = double.PositiveInfinity;
        foreach (var risk in (double[])[0.05, 0.005, 0.002, 0.001])
        {
            var verdict = Judge(Best, rule with { GreatestRiskOfPassingBad = risk });
            var accepted = verdict.Tolerance!.Value - verdict.GuardBand!.Value;
            Assert.True(accepted <= last);
            Assert.InRange(verdict.RiskOfPassingBad!.Value, 0, risk + 1e-9);
            last = accepted;
        }

        var strict = rule with { GreatestRiskOfPassingBad = 0.001 };
        Assert.True(Judge(Best, strict).GuardBand > 0);
        var near = Judge(Best + (1.1 * last), strict);
        Assert.Equal(VerdictKind.Doubtful, near.Kind);
        Assert.Contains("too coarse", near.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_measurement_too_coarse_for_the_rule_accepts_nothing()
    {
        var verdict = Judge(Best, new DecisionRule { SmallestDifferencePercent = 1, GreatestRiskOfPassingBad = 0.001 });
        Assert.Equal((VerdictKind.Doubtful, verdict.Tolerance, 0.0),
            (verdict.Kind, verdict.GuardBand, verdict.RiskOfPassingBad));
        Assert.Contains("too coarse", verdict.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_text_says_a_risk_that_is_worth_knowing()
    {
        var verdict = Judge(Best, new DecisionRule { PriorAsDesigned = 0.5, GreatestRiskOfPassingBad = 1 });
        Assert.Equal(VerdictKind.Within, verdict.Kind);
        Assert.Contains("are not as designed", verdict.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("are not as designed", Judge(Best).Text, StringComparison.Ordinal);
        Assert.Contains("one sound circuit in 333 reads so far off", Judge(40).Text, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(double.NaN, 0.05, 0.9, null)]
    [InlineData(0, 0.05, 0.9, null)]
    [InlineData(0.6, 0.05, 0.9, null)]
    [InlineData(0.003, 0, 0.9, null)]
    [InlineData(0.003, 0.05, 1, null)]
    [InlineData(0.003, 0.05, 0.9, 0.0)]
    [InlineData(0.003, 0.05, 0.9, double.PositiveInfinity)]
    public void A_rule_out_of_range_is_refused_by_name(double failing, double passing, double prior, double? percent)
    {
        var rule = new DecisionRule
        {
            GreatestRiskOfFailingGood = failing,
            GreatestRiskOfPassingBad = passing,
            PriorAsDesigned = prior,
            SmallestDifferencePercent = percent,
        };
        Assert.Equal((VerdictKind.CannotBeJudged, VerdictReason.BadRule), (Judge(27, rule).Kind, Judge(27, rule).Reason));
    }

    /// <summary>The guard band of a minimum: with a rectangular error of ±L it is L·(1 − 2·risk) wide.</summary>
    [Theory]
    [InlineData(0.05)]
    [InlineData(0.3)]
    [InlineData(0.9)]
    public void Insulation_has_a_guard_band_above_its_minimum(double risk)
    {
        var rule = new DecisionRule { GreatestRiskOfPassingBad = risk };
        var reading = new MeasuredReading("driver", MeasuredQuantity.MegohmsInsulation, 0.52);
        var verdict = Verdicts.Judge(Expectation, reading, rule);
        var limit = (0.05 * 0.52) + 0.05;
        Assert.Equal(limit * Math.Max(0, 1 - (2 * risk)), verdict.GuardBand!.Value, 1e-5);
        Assert.Equal(Math.Min(risk, 0.5), verdict.RiskOfPassingBad!.Value, 1e-4);
        Assert.Equal((0.02 + limit) / (2 * limit), verdict.ProbabilityAsDesigned!.Value, 1e-4);
        Assert.Equal(risk < 0.35 ? VerdictKind.Doubtful : VerdictKind.Within, verdict.Kind);
    }

    /// <summary>
    /// Risks are frequencies: of many circuits, as designed and not in the proportion of the prior, the shares of wrong
    /// calls and the probabilities given come out as stated.
    /// </summary>
    [Theory]
    [InlineData(0.0)]
    [InlineData(3.0)]
    public void Stated_risks_and_probabilities_are_frequencies(double difference)
    {
        const int Circuits = 400_000;
        var random = new Random(106);
        var spread = SpreadTests.Sum(0.4, 1.2, 0.8);
        var rule = new DecisionRule
        {
            PriorAsDesigned = 0.6,
            GreatestRiskOfFailingGood = 0.02,
            GreatestRiskOfPassingBad = 0.2,
            SmallestDifferencePercent = difference > 0 ? 1 : null,
        };
        var alternative = new Alternative(60, difference);
        var judged = new Judgement(spread, alternative, rule, double.PositiveInfinity);
        int good = 0, failed = 0, passed = 0, passedBad = 0;
        var claimed = new double[10];
        var found = new double[10];
        var count = new int[10];
        for (var i = 0; i < Circuits; i++)
        {
            var isGood = random.NextDouble() < rule.PriorAsDesigned;
            var off = (Rectangular(random) * 1.2) + (Rectangular(random) * 0.8) + (Gaussian(random) * 0.4);
            if (!isGood) off += Bad(random, alternative);
            var kind = judged.Kind(off);
            var bin = Math.Min(9, (int)(10 * judged.ProbabilityAsDesigned(off)));
            claimed[bin] += judged.ProbabilityAsDesigned(off);
            found[bin] += isGood ? 1 : 0;
            count[bin]++;
            if (isGood) good++;
            if (isGood && kind == VerdictKind.Outside) failed++;
            if (kind == VerdictKind.Within) passed++;
            if (!isGood && kind == VerdictKind.Within) passedBad++;
        }

        Assert.Equal(0.02, failed / (double)good, 0.0012);
        Assert.Equal(judged.RiskOfFailingGood, failed / (double)good, 0.0012);
        // With a smallest difference the stated risk is that of the circuit hardest to tell, so an upper bound.
        var risk = passedBad / (double)passed;
        Assert.InRange(risk, difference > 0 ? 0 : judged.RiskOfPassingBad - 0.002, judged.RiskOfPassingBad + 0.002);
        for (var bin = 0; bin < 10; bin++)
        {
            if (count[bin] > 500)
                Assert.Equal(claimed[bin] / count[bin], found[bin] / count[bin], 4 * 0.5 / Math.Sqrt(count[bin]));
        }
    }

    [Fact]
    public void What_earlier_versions_stored_still_loads_and_is_judged()
    {
        var stored = JsonSerializer.Serialize(Expectation);
        var old = stored.Replace($",\"SecondRectangular\":{JsonSerializer.Serialize(
            Expectation.DriverVoltsDc.SecondRectangular)}", "", StringComparison.Ordinal);
        Assert.NotEqual(stored, old);
        var back = JsonSerializer.Deserialize<ExpectedReadings>(old)!;
        Assert.Equal(0, back.DriverVoltsDc.SecondRectangular);
        Assert.Equal(VerdictKind.Within, Verdicts.Judge(back, Some.DriverVolts(Best)).Kind);
    }

    private static double Bad(Random random, Alternative alternative)
    {
        while (true)
        {
            var off = (random.NextDouble() - 0.5) * alternative.Span;
            if (Math.Abs(off) >= alternative.Difference) return off;
        }
    }

    private static double Rectangular(Random random) => Math.Sqrt(3) * ((2 * random.NextDouble()) - 1);

    private static double Gaussian(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private static Verdict Judge(double volts, DecisionRule? rule = null) =>
        Verdicts.Judge(Expectation, Some.DriverVolts(volts), rule);
}
