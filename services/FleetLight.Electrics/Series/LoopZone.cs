using System.Runtime.InteropServices;

namespace FleetLight.Electrics;

/// <summary>
/// A part of a loop that carries one current: the loop from the driver, or what lies beyond a place where the cores are
/// connected.
/// </summary>
[StructLayout(LayoutKind.Auto)]
internal struct LoopZone
{
    /// <summary>First position in it; −1 for the zone from the driver.</summary>
    public int Start;

    /// <summary>First position after it.</summary>
    public int End;

    /// <summary>The zone that feeds it; −1 for the one from the driver.</summary>
    public int Parent;

    /// <summary>Resistance of the connection in front of it, Ω; not used for the zone from the driver.</summary>
    public double BridgeOhms;

    /// <summary>Its share of the cable where the runs do not tell where they are.</summary>
    public double CableShare;

    /// <summary>Resistance of its cable and tails, Ω.</summary>
    public double Ohms;

    /// <summary>Breaks in it.</summary>
    public int Breaks;

    /// <summary>Its current, A.</summary>
    public double Amps;

    /// <summary>Voltage in front of it, V.</summary>
    public double Volts;

    /// <summary>Change of its voltage with its current, connections within it excluded, Ω.</summary>
    public double Slope;
}
