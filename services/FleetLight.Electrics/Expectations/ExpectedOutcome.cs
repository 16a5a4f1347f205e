using System.Collections.Immutable;
using FleetLight.Contracts;

namespace FleetLight.Electrics;

/// <summary>What a circuit should read, or why that cannot be said: one of two records, never an exception.</summary>
public abstract record ExpectedOutcome
{
    private protected ExpectedOutcome()
    {
    }
}

/// <summary>Nothing can be expected of the circuit as recorded.</summary>
/// <param name="Reason">The reason, for programs.</param>
/// <param name="Text">The reason in plain words, for people.</param>
/// <param name="Field">The part of the model that it is about, such as "fittings[2].ratedWatts".</param>
public sealed record CannotExpect(RefusalReason Reason, string Text, string Field) : ExpectedOutcome
{
    /// <summary>
    /// After <see cref="RefusalReason.VoltageCollapse"/>: the greatest total power, in the proportions of the design,
    /// that the cable could carry, W.
    /// </summary>
    public double? GreatestWatts { get; init; }
}

/// <summary>Why nothing can be expected.</summary>
public enum RefusalReason
{
    /// <summary>The driver's rated current (constant current) or voltage (constant voltage) is not recorded.</summary>
    DriverRatingMissing,

    /// <summary>The circuit has no fitting.</summary>
    NoFittings,

    /// <summary>A number is not a number, infinite or outside its stated range.</summary>
    OutOfRange,

    /// <summary>A conductor area that IEC 60228 does not list between 0.5 and 16 mm².</summary>
    NonStandardArea,

    /// <summary>An id is missing, used twice or reserved.</summary>
    BadId,

    /// <summary>A fitting or run is not connected to the driver.</summary>
    NotConnected,

    /// <summary>No voltage exists at which the cable carries the power: the voltage collapses.</summary>
    VoltageCollapse,

    /// <summary>The fittings need more voltage, current or power than the driver gives.</summary>
    BeyondDriver,

    /// <summary>The fittings need less voltage than the driver can regulate to.</summary>
    BelowDriver,
}

/// <summary>What a healthy circuit should read. A plain record that can be stored as JSON.</summary>
public sealed record ExpectedReadings : ExpectedOutcome
{
    /// <summary>The version of the model that worked it out; a new version may answer differently.</summary>
    public int ModelVersion { get; init; } = Expected.ModelVersion;

    /// <summary>How the driver feeds the fittings.</summary>
    public required DriveKind Drive { get; init; }

    /// <summary>Voltage at the driver's output, V DC.</summary>
    public required Estimate DriverVoltsDc { get; init; }

    /// <summary>Current at the driver's output, mA.</summary>
    public required Estimate DriverMilliamps { get; init; }

    /// <summary>Power at the driver's output, W.</summary>
    public required Estimate DriverWatts { get; init; }

    /// <summary>
    /// For constant current: resistance of the cable alone, driver off and every fitting bridged, Ω. Otherwise null.
    /// </summary>
    public Estimate? CableLoopOhms { get; init; }

    /// <summary>
    /// For constant current: the same with every conductor at the IEC 60228 maximum, Ω. Otherwise null.
    /// </summary>
    public double? CableLoopOhmsAtMost { get; init; }

    /// <summary>How much of the driver's rating the circuit uses.</summary>
    public required DriverLoading Loading { get; init; }

    /// <summary>Voltage across each fitting, in the order of the model.</summary>
    public ImmutableArray<FittingExpectation> Fittings { get; init; } = [];

    /// <summary>
    /// Voltage between the cores. For constant voltage at every node but the driver, in front of a fitting's tail. For
    /// constant current at every box whose volts follow from the runs: all cable beyond it is two-core and connected.
    /// </summary>
    public ImmutableArray<NodeExpectation> Nodes { get; init; } = [];

    /// <summary>
    /// Greatest voltage drop in the cable as percent of the driver's voltage: to the worst fitting for constant
    /// voltage, round the loop for constant current.
    /// </summary>
    public required double WorstDropPercent { get; init; }

    /// <summary>
    /// Steps of Newton's method that the answer took; 0 where none was needed. It converges in a few, or a refusal says
    /// why there is no answer.
    /// </summary>
    public int Iterations { get; init; }

    /// <summary>Remarks on the design that do not hinder the answer.</summary>
    public ImmutableArray<ExpectationNote> Notes { get; init; } = [];

    /// <summary>
    /// The same without the budgets of single fittings and nodes: less than half the size to store, and every verdict
    /// is the same.
    /// </summary>
    public ExpectedReadings WithoutPartBudgets() => this with
    {
        Fittings = [.. Fittings.OrEmpty().Select(f => f with { VoltsDc = f.VoltsDc with { Budget = [] } })],
        Nodes = [.. Nodes.OrEmpty().Select(n => n with { VoltsDc = n.VoltsDc with { Budget = [] } })],
    };
}

/// <summary>What one fitting should show.</summary>
/// <param name="FittingId">The fitting.</param>
/// <param name="VoltsDc">Voltage across it, V DC.</param>
/// <param name="Watts">Power it takes, W; 0 where it is dark.</param>
public sealed record FittingExpectation(string FittingId, Estimate VoltsDc, double Watts);

/// <summary>What one node should show.</summary>
/// <param name="NodeId">The node: a fitting or a box.</param>
/// <param name="VoltsDc">Voltage between its conductors, V DC.</param>
public sealed record NodeExpectation(string NodeId, Estimate VoltsDc);

/// <summary>How much of the driver's rating is used; null where the rating is not recorded.</summary>
/// <param name="PercentOfMostVolts">Output voltage as percent of the greatest.</param>
/// <param name="PercentOfMostWatts">Output power as percent of the greatest.</param>
/// <param name="PercentOfMostAmps">Output current as percent of the greatest.</param>
public sealed record DriverLoading(double? PercentOfMostVolts, double? PercentOfMostWatts, double? PercentOfMostAmps);

/// <summary>A remark on a design.</summary>
/// <param name="Code">What it is, for programs.</param>
/// <param name="Text">The same in plain words.</param>
/// <param name="Field">The part of the model that it is about.</param>
public sealed record ExpectationNote(NoteCode Code, string Text, string Field);

/// <summary>Kinds of remark on a design.</summary>
public enum NoteCode
{
    /// <summary>The driver runs near or, within the uncertainty, beyond a limit of its rating.</summary>
    DriverNearLimit,

    /// <summary>The driver runs, within the uncertainty, below the least voltage it regulates to.</summary>
    DriverNearLeastVolts,

    /// <summary>A fitting would get less than the least voltage it needs, and goes dark.</summary>
    FittingBelowLeastVolts,

    /// <summary>The cable drops so much that the stated uncertainty, a first-order figure, is too small.</summary>
    CloseToCollapse,

    /// <summary>
    /// A fitting that goes dark gets enough voltage again as soon as it is dark: it may start and stop.
    /// </summary>
    FittingStartsAndStops,

    /// <summary>
    /// Near a limit of the driver, the drop-out of a fitting or voltage collapse the first order is not enough: the stated
    /// uncertainty is a rough figure.
    /// </summary>
    FirstOrderNotEnough,
}
