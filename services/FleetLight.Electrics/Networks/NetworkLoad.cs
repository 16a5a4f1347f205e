using System.Runtime.InteropServices;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>How what hangs between the cores of a network draws current.</summary>
internal enum DrawKind
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>A constant power.</summary>
    Power,

    /// <summary>A constant current, with a linear rise from zero at small voltages.</summary>
    Current,

    /// <summary>In proportion to the voltage.</summary>
    Resistance,

    /// <summary>As a bare string of LEDs.</summary>
    String,

    /// <summary>In proportion to the voltage beyond a threshold: a short, a leak or a diode.</summary>
    Shunt,
}

/// <summary>One thing that draws current from a node.</summary>
[StructLayout(LayoutKind.Auto)]
internal struct NetworkLoad
{
    /// <summary>
    /// Share of the nominal voltage below which a linear regulator's current falls to zero in proportion. Our
    /// assumption; it keeps the circuit solvable when the voltage is all but gone.
    /// </summary>
    public const double RegulatorKnee = 0.1;

    /// <summary>
    /// Share of the rated voltage that a constant-power fitting needs where its least voltage is not recorded: below
    /// half of the supply no constant power can be drawn steadily through a resistance (maximum power transfer). Our
    /// assumption.
    /// </summary>
    public const double LeastShare = 0.5;

    public DrawKind Kind;

    /// <summary>The node.</summary>
    public int Node;

    /// <summary>Index of the fitting in the model; −1 for none.</summary>
    public int Fitting;

    /// <summary>Rated power, W.</summary>
    public double Watts;

    /// <summary>
    /// The voltage at which that is drawn; for a string its forward voltage; for a shunt its threshold, V.
    /// </summary>
    public double Volts;

    /// <summary>A string's current at its forward voltage, A.</summary>
    public double Amps;

    /// <summary>Conductance of a shunt beyond its threshold, S.</summary>
    public double Siemens;

    /// <summary>Voltage below which it goes dark, V; 0 for none.</summary>
    public double LeastVolts;

    /// <summary>Whether it went dark because its voltage was too low.</summary>
    public bool IsDropped;

    /// <summary>Relative standard uncertainty of its power, or of a string's forward volts.</summary>
    public double Relative;

    /// <summary>Position of that among the inputs.</summary>
    public int Input;

    /// <summary>How a string's voltage follows its current.</summary>
    public LedCurve Curve;

    /// <summary>Whether it draws anything.</summary>
    public readonly bool IsOn => Kind != DrawKind.None && !IsDropped;

    /// <summary>The current at a voltage, A.</summary>
    /// <param name="volts">The voltage, V.</param>
    /// <param name="slope">Receives its change with the voltage, S.</param>
    public readonly double AmpsAt(double volts, out double slope)
    {
        slope = 0;
        if (!IsOn) return 0;
        switch (Kind)
        {
            case DrawKind.Power:
                var amps = Watts / volts;
                slope = -amps / volts;
                return amps;
            case DrawKind.Current:
                var constant = Watts / Volts;
                var knee = RegulatorKnee * Volts;
                if (volts >= knee) return constant;
                slope = constant / knee;
                return slope * volts;
            case DrawKind.Resistance:
                slope = Watts / (Volts * Volts);
                return slope * volts;
            case DrawKind.Shunt:
                if (!(volts > Volts)) return 0;
                slope = Siemens;
                return Siemens * (volts - Volts);
            default:
                return StringAmps(volts, out slope);
        }
    }

    /// <summary>Change of the current by one standard uncertainty of its own input, A.</summary>
    public readonly double ByOwn(double volts)
    {
        if (Kind == DrawKind.Shunt) return 0;
        var amps = AmpsAt(volts, out var slope);
        // A string of higher forward volts is the same string at a lower voltage.
        return Relative * (Kind == DrawKind.String ? -slope * volts : amps);
    }

    /// <summary>The load of a fitting.</summary>
    public static DrawKind KindOf(LoadKind kind) => kind switch
    {
        LoadKind.ConstantCurrent => DrawKind.Current,
        LoadKind.Resistive => DrawKind.Resistance,
        _ => DrawKind.Power,
    };

    // The current at which the string's voltage is this: Newton's method in the logarithm of the current, over which
    // the voltage is convex, from above.
    private readonly double StringAmps(double volts, out double slope)
    {
        slope = 0;
        var wanted = volts / Volts;
        if (!(wanted > 0)) return 0;
        if (!(Curve.ResistiveShare > 0) && !(Curve.LogarithmicShare > 0)) return 0;
        // Either part alone would need less than this.
        var most = Curve.ResistiveShare > 0 ? 1 + (Math.Max(0, wanted - 1) / Curve.ResistiveShare) : double.MaxValue;
        if (Curve.LogarithmicShare > 0)
            most = Math.Min(most, Math.Exp(Math.Min(700, Math.Max(0, wanted - 1) / Curve.LogarithmicShare)));
        double at = Math.Log(most), ratio = most;
        for (var step = 0; step < 60; step++)
        {
            var off = 1 + (Curve.LogarithmicShare * at) + (Curve.ResistiveShare * (ratio - 1)) - wanted;
            var change = off / (Curve.LogarithmicShare + (Curve.ResistiveShare * ratio));
            at -= change;
            if (at < -40) return 0;
            ratio = Math.Exp(at);
            if (Math.Abs(change) < 1e-14) break;
        }

        slope = Amps / Volts / ((Curve.LogarithmicShare / ratio) + Curve.ResistiveShare);
        return Amps * ratio;
    }
}
