using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>What a slip with the meter does to a reading.</summary>
/// <param name="Factor">What was written down as a multiple of what is there.</param>
/// <param name="Variance">Variance that the slip adds, in the unit of the quantity.</param>
/// <param name="IsLogarithm">Whether the reading is weighed by its logarithm.</param>
internal readonly record struct MeterSlip(double Factor, double Variance, bool IsLogarithm)
{
    // What a range of alternating volts or amps may show of a direct one: standard uncertainties. Judgement.
    private const double WrongKindVolts = 0.3;
    private const double WrongKindMilliamps = 3;

    /// <summary>The slip that a list of changes means for a quantity.</summary>
    /// <param name="changes">The changes.</param>
    /// <param name="quantity">The quantity.</param>
    /// <param name="touched">Whether the slip touches this reading.</param>
    public static MeterSlip Of(ImmutableArray<CircuitChange> changes, MeasuredQuantity quantity, bool touched)
    {
        var slip = new MeterSlip(1, 0, quantity == MeasuredQuantity.MegohmsInsulation);
        if (!touched) return slip;
        foreach (var change in changes.OrEmpty())
        {
            if (change is MeterOnWrongRange range && range.Quantity == quantity) slip = slip.With(range);
            if (change is MeterLeadsReversed && !slip.IsLogarithm && quantity != MeasuredQuantity.LoopOhms)
                slip = slip with { Factor = -slip.Factor };
        }

        return slip;
    }

    /// <summary>Puts the slip on a predicted value and on how it depends on the inputs.</summary>
    public void Apply(ref double mean, Span<double> parts)
    {
        if (Factor == 1) return;
        if (IsLogarithm)
        {
            mean += Math.Log(Math.Max(Math.Abs(Factor), double.Epsilon));
            return;
        }

        mean *= Factor;
        for (var k = 0; k < parts.Length; k++) parts[k] *= Factor;
    }

    private MeterSlip With(MeterOnWrongRange range)
    {
        var u = range.Quantity == MeasuredQuantity.Milliamps ? WrongKindMilliamps : WrongKindVolts;
        return this with
        {
            Factor = Factor * range.Factor,
            Variance = Variance + (range.Factor == 0 && !IsLogarithm ? u * u : 0),
        };
    }
}
