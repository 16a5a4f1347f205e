using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>Judges readings against what a circuit should read. Advice, never a certificate.</summary>
/// <remarks>
/// Within: inside the 95 % interval of design and meter. Doubtful: no further off than 2.97 standard uncertainties,
/// which a normal quantity exceeds three times in a thousand. Outside: beyond. The 95 % interval follows the shape
/// of the uncertainty; the outer bound does not, because the ends of a stated tolerance are the least certain part
/// of it.
/// </remarks>
public static class Verdicts
{
    /// <summary>Judges one reading.</summary>
    /// <param name="expected">What <see cref="Expected.Of"/> answered for the circuit.</param>
    /// <param name="reading">The reading.</param>
    public static Verdict Judge(ExpectedOutcome? expected, MeasuredReading? reading)
    {
        if (reading is null || !(Math.Abs(reading.Value) <= MeasuredReading.MostValue))
            return Cannot(VerdictReason.BadReading, "The reading is not a possible number.", reading);
        var meter = reading.Meter ?? MeterAccuracy.DefaultFor(reading.Quantity);
        if (!meter.IsValid)
            return Cannot(VerdictReason.BadMeter, "The meter's accuracy is outside its range.", reading);
        return expected switch
        {
            ExpectedReadings readings => Judge(readings, reading, meter),
            CannotExpect refusal => Cannot(VerdictReason.NothingExpected, refusal.Text, reading),
            _ => Cannot(VerdictReason.NothingExpected, "Nothing is known of the circuit.", reading),
        };
    }

    private static Verdict Judge(ExpectedReadings expected, MeasuredReading reading, MeterAccuracy meter)
    {
        if (reading.Quantity == MeasuredQuantity.MegohmsInsulation) return JudgeInsulation(expected, reading, meter);
        var estimate = EstimateFor(expected, reading.Place, reading.Quantity);
        return estimate is null
            ? Cannot(VerdictReason.NotExpectedHere, "Nothing is worked out for this quantity at this place.", reading)
            : Compare(estimate, reading, meter);
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

    // A minimum and no interval: nothing is too well insulated. Circuits of this library are extra-low voltage by
    // design; one that is not gets the row of its voltage.
    private static Verdict JudgeInsulation(ExpectedReadings expected, MeasuredReading reading, MeterAccuracy meter)
    {
        var judged = InsulationResistance.Judge(
            expected.DriverVoltsDc.Best, isSelvOrPelv: true, reading.Value, meter);
        return judged.Limit is not { } least
            ? Cannot(VerdictReason.BadReading, judged.Text, reading)
            : new Verdict(judged.Kind, VerdictReason.ComparedWithMinimum, judged.Text)
            {
                Low = least,
                Measured = reading.Value,
            };
    }

    private static Estimate? VoltsAt(ExpectedReadings expected, string? place)
    {
        foreach (var fitting in expected.Fittings.OrEmpty())
            if (fitting.FittingId == place) return fitting.VoltsDc;
        foreach (var node in expected.Nodes.OrEmpty())
            if (node.NodeId == place) return node.VoltsDc;
        return null;
    }

    private static Verdict Compare(Estimate estimate, MeasuredReading reading, MeterAccuracy meter)
    {
        var byMeter = meter.StandardUncertaintyAt(reading.Value);
        var combined = Math.Sqrt((estimate.StandardUncertainty * estimate.StandardUncertainty) + (byMeter * byMeter));
        var half = combined * Coverage.Factor95(Math.Max(estimate.LargestRectangular, byMeter), combined);
        var off = reading.Value - estimate.Best;
        var kind = Math.Abs(off) <= half ? VerdictKind.Within
            : Math.Abs(off) <= Coverage.Normal997 * combined ? VerdictKind.Doubtful
            : VerdictKind.Outside;
        return new Verdict(kind, VerdictReason.Compared, Wording.Of(kind, reading, estimate.Best, half))
        {
            Expected = estimate.Best,
            Low = estimate.Best - half,
            High = estimate.Best + half,
            Measured = reading.Value,
            StandardUncertainty = combined,
            Deviations = combined > 0 ? off / combined : null,
        };
    }

    private static Verdict Cannot(VerdictReason reason, string text, MeasuredReading? reading) =>
        new(VerdictKind.CannotBeJudged, reason, text)
        {
            Measured = reading is not null && double.IsFinite(reading.Value) ? reading.Value : null,
        };
}
