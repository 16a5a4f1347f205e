using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>A circuit with its changes, and with its inputs where they are: what a loop and a network share of that.</summary>
internal abstract class BuiltCircuit(CircuitModel model, Assumptions assumptions, CableSet recorded)
{
    /// <summary>√3: a limit is that many standard uncertainties of a rectangular input.</summary>
    protected const double Root3 = 1.7320508075688772;

    /// <summary>The runs.</summary>
    public CableSet Cables { get; private set; } = recorded;

    /// <summary>Whether the driver gives nothing.</summary>
    public bool IsDead { get; private set; }

    /// <summary>Whether plus and minus are exchanged.</summary>
    public bool IsReversed { get; private set; }

    /// <summary>Whether anything differs from the record.</summary>
    public bool IsChanged { get; private set; }

    /// <summary>Relative standard uncertainty of the driver's regulated output.</summary>
    public double DriverRelative => model.Driver.OutputTolerancePercent / 100 / Root3;

    /// <summary>Relative change of forward volts by one standard uncertainty of the temperature.</summary>
    public double RelativeTemperature => assumptions.ForwardVoltsPerKelvinPerVolt
        * assumptions.FittingTemperatureStandardUncertaintyKelvin;

    /// <summary>The circuit as recorded.</summary>
    protected CircuitModel Model => model;

    /// <summary>What is assumed where the record is silent.</summary>
    protected Assumptions Assumptions => assumptions;

    /// <summary>How far an input is from its best estimate.</summary>
    public static double At(ReadOnlySpan<double> deviations, int input) => deviations.IsEmpty ? 0 : deviations[input];

    /// <summary>Takes the changes in; false with the first one that cannot be.</summary>
    public bool TryTake(ImmutableArray<CircuitChange> changes, out int failed)
    {
        failed = -1;
        if (changes.IsDefaultOrEmpty) return true;
        IsChanged = true;
        Cables = Cables.Copy();
        for (var i = 0; i < changes.Length; i++)
        {
            if (TryTake(changes[i])) continue;
            failed = i;
            return false;
        }

        return true;
    }

    /// <summary>Takes a change in that is about fittings, nodes or the driver's output; null where it is about none.</summary>
    protected abstract bool? TryTakeOwn(CircuitChange change);

    /// <summary>Whether a fitting is in the model.</summary>
    protected bool IsFitting(int fitting) => fitting >= 0 && fitting < model.Fittings.Length;

    private bool TryTake(CircuitChange? change)
    {
        switch (change)
        {
            case null:
                return false;
            case DriverDead:
                return IsDead = true;
            case SupplyReversed:
                IsReversed = !IsReversed;
                return true;
            case MeterLeadsReversed or MeterOnWrongRange:
                return true;
            default:
                return TryTakeOwn(change) ?? Cables.TryTake(change);
        }
    }
}
