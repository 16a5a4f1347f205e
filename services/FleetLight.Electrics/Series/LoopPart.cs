using System.Runtime.InteropServices;

namespace FleetLight.Electrics;

/// <summary>What a part of a series loop does with the current.</summary>
internal enum LoopPartKind
{
    /// <summary>A string of LEDs.</summary>
    String,

    /// <summary>A voltage that does not depend on the current; 0 for a bridge.</summary>
    Fixed,

    /// <summary>A break.</summary>
    Open,

    /// <summary>A string the wrong way round that lets nothing through.</summary>
    Blocked,
}

/// <summary>One fitting in a series loop.</summary>
[StructLayout(LayoutKind.Auto)]
internal struct LoopPart
{
    public LoopPartKind Kind;

    /// <summary>Its power, W.</summary>
    public double Watts;

    /// <summary>The current at which that holds, A.</summary>
    public double Amps;

    /// <summary>Its voltage at that current, or at any for a fixed one, V.</summary>
    public double Volts;

    /// <summary>How its voltage follows its current.</summary>
    public LedCurve Curve;

    /// <summary>Relative standard uncertainty of its voltage at the stated current.</summary>
    public double Relative;

    /// <summary>Position of its power among the inputs.</summary>
    public int Input;

    /// <summary>Position of its node in the layout.</summary>
    public int Position;

    /// <summary>Its tail.</summary>
    public Cable Tail;

    /// <summary>Resistance of its tail with the inputs as they are, Ω.</summary>
    public double TailOhms;

    /// <summary>Its voltage at a current above zero, V.</summary>
    public readonly double VoltsAt(double amps) =>
        Kind == LoopPartKind.String ? Volts * Curve.VoltsRatio(amps / Amps) : Volts;

    /// <summary>Change of its voltage with the current, Ω.</summary>
    public readonly double SlopeAt(double amps)
    {
        if (Kind != LoopPartKind.String) return 0;
        var ratio = amps / Amps;
        if (!(Curve.VoltsRatio(ratio) > 0)) return 0;
        return Volts / Amps * ((Curve.LogarithmicShare / ratio) + Curve.ResistiveShare);
    }
}
