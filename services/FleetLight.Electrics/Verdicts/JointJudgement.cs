using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>Several readings of one circuit, with all that they share, against what they should be.</summary>
internal sealed class JointJudgement
{
    /// <summary>
    /// Share of the variance of a meter's error that is the same in all its readings of a quantity. An accuracy states limits
    /// only: errors of gain are common to all readings, those of linearity, of another range and of the last digits are not.
    /// A quarter is judgement, no source. Where more is common, fewer good circuits are failed than the rule allows; where
    /// none is, up to four times as many.
    /// </summary>
    private const double SharedByMeter = 0.25;

    // A meter without any error would make every reading infinitely unlikely.
    private const double LeastRelative = 1e-6;

    private readonly ReadingGroups groups;
    private readonly ImmutableArray<InputShape> shapes;
    private readonly double[] parts;
    private readonly double[] off;

    private JointJudgement(ReadingGroups groups, CircuitPlan plan, ICircuitState state)
    {
        this.groups = groups;
        var meters = new Dictionary<(MeasuredQuantity, MeterAccuracy), int>();
        for (var i = 0; i < groups.Count; i++)
            meters.TryAdd((groups[i].Quantity, groups.MeterOf(i)), meters.Count);
        var circuit = plan.Inputs.Length;
        var own = circuit + meters.Count;
        var scatter = own + groups.Count;
        shapes =
        [
            .. plan.Inputs,
            .. Enumerable.Repeat(new InputShape(UncertaintySource.Meter, true), meters.Count + groups.Count),
            .. Enumerable.Repeat(new InputShape(UncertaintySource.Meter, false), groups.Count),
        ];
        parts = new double[groups.Count * shapes.Length];
        off = new double[groups.Count];
        for (var i = 0; i < groups.Count; i++)
        {
            var row = parts.AsSpan(i * shapes.Length, shapes.Length);
            var reading = groups[i];
            off[i] = reading.Value - state.Predict(reading.Place, reading.Quantity, row[..circuit]);
            var byMeter = Math.Max(
                groups.MeterOf(i).StandardUncertaintyAt(reading.Value), LeastRelative * (1 + Math.Abs(reading.Value)));
            row[circuit + meters[(reading.Quantity, groups.MeterOf(i))]] = byMeter * Math.Sqrt(SharedByMeter);
            row[own + i] = byMeter * Math.Sqrt(1 - SharedByMeter);
            row[scatter + i] = reading.Scatter?.StandardUncertainty ?? 0;
        }
    }

    /// <summary>Judges readings of which at least two stand beside each other.</summary>
    public static JointVerdict? Of(
        ReadingGroups groups, ExpectedReadings expected, CircuitPlan plan, ICircuitState state, DecisionRule rule)
    {
        var judged = new JointJudgement(groups, plan, state);
        return JointSpread.TryOf(judged.parts, judged.shapes) is { } joint ? judged.Verdict(joint, expected, rule) : null;
    }

    private JointVerdict Verdict(JointSpread joint, ExpectedReadings expected, DecisionRule rule)
    {
        var distance = joint.Distance(off);
        var doubt = Math.Max(0.05, rule.GreatestRiskOfFailingGood);
        var farther = joint.Beyond(distance, [doubt, rule.GreatestRiskOfFailingGood]);
        var (asDesigned, least) = Weigh(joint, expected, rule);
        var kind = farther < rule.GreatestRiskOfFailingGood ? VerdictKind.Outside
            : farther < doubt || 1 - asDesigned > rule.GreatestRiskOfPassingBad ? VerdictKind.Doubtful
            : VerdictKind.Within;
        return new JointVerdict(
            kind, VerdictReason.Compared, Wording.OfAll(kind, groups.Count, farther, asDesigned, groups[least]))
        {
            Compared = groups.Count,
            SquaredDistance = distance,
            ShareFartherOff = farther,
            ProbabilityAsDesigned = asDesigned,
            RiskOfFailingGood = rule.GreatestRiskOfFailingGood,
            LeastFitting = groups.LastOf(least),
        };
    }

    // Bayes: as designed against one reading, whichever, being anything, given that the others are as they should be.
    private (double AsDesigned, int Least) Weigh(JointSpread joint, ExpectedReadings expected, DecisionRule rule)
    {
        double ratio = 0, most = -1;
        var least = 0;
        var given = joint.GivenTheOthers(off);
        for (var i = 0; i < given.Length; i++)
        {
            var spread = new Spread(given[i].StandardUncertainty, 0, 0, 0);
            var alternative = Alternative.For(expected, groups[i], groups[i].Value - off[i], rule);
            ratio += alternative.Density(given[i].Off, spread) / spread.Density(given[i].Off) / given.Length;
            var deviations = Math.Abs(given[i].Off) / given[i].StandardUncertainty;
            if (deviations > most) (most, least) = (deviations, i);
        }

        return (1 / (1 + (ratio * (1 - rule.PriorAsDesigned) / rule.PriorAsDesigned)), least);
    }
}
