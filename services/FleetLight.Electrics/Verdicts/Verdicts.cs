using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Judges readings against what a circuit should read. Advice, never a certificate.</summary>
/// <remarks>
/// By the decision rules of JCGM 106, see <see cref="DecisionRule"/>. Outside: further off than the shape of the
/// uncertainty allows at the rule's risk of failing a good circuit. Within: inside the 95 % interval of design and meter,
/// narrowed where the rule's risk of passing a bad circuit asks for it. Doubtful: between.
/// </remarks>
public static partial class Verdicts
{
    /// <summary>Judges one reading.</summary>
    /// <param name="expected">What <see cref="Expected.Of"/> answered for the circuit.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="rule">The risks to judge by; the stated defaults if null.</param>
    public static Verdict Judge(ExpectedOutcome? expected, MeasuredReading? reading, DecisionRule? rule = null)
    {
        if (reading is null || !(Math.Abs(reading.Value) <= MeasuredReading.MostValue)
            || reading.Scatter is { IsValid: false })
            return Cannot(VerdictReason.BadReading, "The reading is not a possible number.", reading);
        var meter = reading.Meter ?? MeterAccuracy.DefaultFor(reading.Quantity);
        if (!meter.IsValid)
            return Cannot(VerdictReason.BadMeter, "The meter's accuracy is outside its range.", reading);
        var risks = rule ?? DecisionRule.Default;
        if (!risks.IsValid)
            return Cannot(VerdictReason.BadRule, "A figure of the decision rule is outside its range.", reading);
        return expected switch
        {
            ExpectedReadings readings => Judge(readings, reading, meter, risks),
            CannotExpect refusal => Cannot(VerdictReason.NothingExpected, refusal.Text, reading),
            _ => Cannot(VerdictReason.NothingExpected, "Nothing is known of the circuit.", reading),
        };
    }

    private static Verdict Judge(
        ExpectedReadings expected, MeasuredReading reading, MeterAccuracy meter, DecisionRule rule)
    {
        if (reading.Quantity == MeasuredQuantity.MegohmsInsulation)
            return Minimum.JudgeInsulation(expected, reading, meter, rule);
        var estimate = EstimateFor(expected, reading.Place, reading.Quantity);
        if (estimate is null)
        {
            return Cannot(
                VerdictReason.NotExpectedHere, "Nothing is worked out for this quantity at this place.", reading);
        }

        var alternative = Alternative.For(expected, reading, estimate.Best, rule);
        return Compare(estimate, reading, meter, alternative, rule);
    }

    /// <summary>What is expected of a quantity at a place, or null where nothing is worked out for it.</summary>
    /// <param name="expected">What the circuit should read.</param>
    /// <param name="place">"driver", a fitting id or a box id.</param>
    /// <param name="quantity">The quantity.</param>
    public static Estimate? EstimateFor(ExpectedReadings expected, string? place, MeasuredQuantity quantity)
    {
        ArgumentNullException.ThrowIfNull(expected);
        // The current of a series loop is the same wherever it is measured.
        if (place is not null && quantity == MeasuredQuantity.Milliamps && expected.Drive == DriveKind.ConstantCurrent)
            return expected.DriverMilliamps;
        if (place == CircuitModel.DriverNode)
        {
            return quantity switch
            {
                MeasuredQuantity.VoltsDc => expected.DriverVoltsDc,
                MeasuredQuantity.Milliamps => expected.DriverMilliamps,
                MeasuredQuantity.LoopOhms => expected.CableLoopOhms,
                _ => null,
            };
        }

        return quantity == MeasuredQuantity.VoltsDc ? VoltsAt(expected, place) : null;
    }

    private static Estimate? VoltsAt(ExpectedReadings expected, string? place)
    {
        foreach (var fitting in expected.Fittings.OrEmpty())
            if (fitting.FittingId == place) return fitting.VoltsDc;
        foreach (var node in expected.Nodes.OrEmpty())
            if (node.NodeId == place) return node.VoltsDc;
        return null;
    }

    private static Verdict Compare(
        Estimate estimate, MeasuredReading reading, MeterAccuracy meter, Alternative alternative, DecisionRule rule)
    {
        var spread = estimate.Shape.WithRectangular(meter.StandardUncertaintyAt(reading.Value));
        var freedom = double.PositiveInfinity;
        if (reading.Scatter is { } scatter)
        {
            spread = spread.WithNormal(scatter.StandardUncertainty);
            freedom = Student.EffectiveDegreesOfFreedom(
                spread.StandardUncertainty, scatter.StandardUncertainty, scatter.DegreesOfFreedom);
        }

        var judged = new Judgement(spread, alternative, rule, freedom);
        var off = reading.Value - estimate.Best;
        var tolerance = (estimate.High95 - estimate.Low95) / 2;
        var asDesigned = judged.ProbabilityAsDesigned(off);
        var kind = judged.Kind(off);
        return new Verdict(kind, VerdictReason.Compared, Wording.Of(kind, reading, estimate.Best, judged, asDesigned))
        {
            Expected = estimate.Best,
            Low = estimate.Best - judged.Half95,
            High = estimate.Best + judged.Half95,
            Measured = reading.Value,
            StandardUncertainty = spread.StandardUncertainty,
            Deviations = spread.StandardUncertainty > 0 ? off / spread.StandardUncertainty : null,
            Tolerance = tolerance,
            GuardBand = tolerance - judged.Accept,
            OutsideBeyond = judged.Reject,
            ProbabilityAsDesigned = asDesigned,
            RiskOfPassingBad = judged.RiskOfPassingBad,
            RiskOfFailingGood = judged.RiskOfFailingGood,
        };
    }

    internal static Verdict Cannot(VerdictReason reason, string text, MeasuredReading? reading) =>
        new(VerdictKind.CannotBeJudged, reason, text)
        {
            Measured = reading is not null && double.IsFinite(reading.Value) ? reading.Value : null,
        };
}
