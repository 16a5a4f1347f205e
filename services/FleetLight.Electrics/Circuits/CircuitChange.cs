namespace FleetLight.Electrics;

/// <summary>
/// One way in which a circuit differs from its record. A fault is a list of these, so a catalogue of faults is data:
/// whoever knows another fault states what it changes, and the same physics works out what it would read.
/// </summary>
public abstract record CircuitChange
{
    private protected CircuitChange()
    {
    }
}

/// <summary>A fitting has another wattage.</summary>
/// <param name="Fitting">Index of the fitting in the model.</param>
/// <param name="Watts">The wattage, at the current or voltage for which the design states it, W.</param>
public sealed record FittingHasWatts(int Fitting, double Watts) : CircuitChange;

/// <summary>
/// The current passes a fitting by: shorted, bridged in its joint, or led through a diode. On constant voltage a
/// fitting with 0 V across it is a short between the cores; a diode there conducts as well.
/// </summary>
/// <param name="Fitting">Index of the fitting in the model.</param>
/// <param name="Volts">What stays across it, V DC: 0 for a short or a bridge, about 0.8 for a diode.</param>
public sealed record FittingBypassed(int Fitting, double Volts) : CircuitChange;

/// <summary>A fitting carries no current: burnt out, missing, blocked. A series loop is broken there.</summary>
/// <param name="Fitting">Index of the fitting in the model.</param>
public sealed record FittingOpen(int Fitting) : CircuitChange;

/// <summary>There is one fitting more.</summary>
/// <param name="Node">The node it hangs on; null for the far end. In a series loop the place makes no difference to the
/// volts of other fittings.</param>
/// <param name="Watts">Its wattage, W.</param>
public sealed record FittingAdded(string? Node, double Watts) : CircuitChange;

/// <summary>
/// A fitting made for the other kind of drive: one for constant voltage in a series loop, or a bare string of LEDs on
/// constant voltage.
/// </summary>
/// <param name="Fitting">Index of the fitting in the model.</param>
/// <param name="RatedVolts">Its rated voltage, or the forward voltage of the string at its rated power, V DC.</param>
public sealed record FittingForOtherDrive(int Fitting, double RatedVolts) : CircuitChange;

/// <summary>A core of a run is broken.</summary>
/// <param name="Run">Index of the run in the model; −1 for one that is not recorded, at the driver.</param>
public sealed record RunOpen(int Run) : CircuitChange;

/// <summary>A joint in a run has a resistance.</summary>
/// <param name="Run">Index of the run in the model; −1 for one that is not recorded, at the driver.</param>
/// <param name="Ohms">Its resistance, Ω.</param>
public sealed record RunJointOhms(int Run, double Ohms) : CircuitChange;

/// <summary>A run is longer or shorter than recorded.</summary>
/// <param name="Run">Index of the run in the model; −1 for all of them.</param>
/// <param name="Factor">Its length as a multiple of the recorded one.</param>
public sealed record RunLengthFactor(int Run, double Factor) : CircuitChange;

/// <summary>A run has another conductor area.</summary>
/// <param name="Run">Index of the run in the model; −1 for all of them.</param>
/// <param name="AreaSquareMillimetres">Its area, one of the IEC 60228 areas, mm².</param>
public sealed record RunHasArea(int Run, double AreaSquareMillimetres) : CircuitChange;

/// <summary>The two cores are connected at a node: they touch, or water leads from one to the other.</summary>
/// <param name="Node">The node; "driver" for the driver's terminals.</param>
/// <param name="Ohms">The resistance between them, Ω; 0 for a dead short.</param>
public sealed record CoresBridged(string Node, double Ohms) : CircuitChange;

/// <summary>The driver gives another current or voltage.</summary>
/// <param name="Value">mA for constant current, V DC for constant voltage.</param>
public sealed record DriverGives(double Value) : CircuitChange;

/// <summary>The driver gives nothing.</summary>
public sealed record DriverDead : CircuitChange;

/// <summary>Plus and minus are exchanged at the driver's output.</summary>
public sealed record SupplyReversed : CircuitChange;

/// <summary>The meter's leads are exchanged: what it shows of volts and current has the other sign.</summary>
public sealed record MeterLeadsReversed : CircuitChange;

/// <summary>The meter was read on the wrong range: what was written down is off by a factor.</summary>
/// <param name="Quantity">The quantity that was written down so.</param>
/// <param name="Factor">What was written down as a multiple of what is there.</param>
public sealed record MeterOnWrongRange(MeasuredQuantity Quantity, double Factor) : CircuitChange;
