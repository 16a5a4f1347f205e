using System.Collections.Immutable;

namespace FleetLight.Electrics;

/// <summary>An answer, or why there is none: exactly one of the two is there.</summary>
/// <param name="Answer">The answer; null where there is none.</param>
/// <param name="Refusal">Why there is none; null where there is one.</param>
public sealed record HeadroomResult(HeadroomAnswer? Answer, CannotExpect? Refusal);

/// <summary>Whether fittings may be added. Advice from the figures given, never a certificate.</summary>
public enum MayBeAdded
{
    /// <summary>Nothing speaks against it, with the margin kept.</summary>
    Yes,

    /// <summary>It may be done; the reasons name what to mind, or what could not be checked.</summary>
    YesBut,

    /// <summary>At least one limit would be passed.</summary>
    No,
}

/// <summary>What a reason is about.</summary>
public enum HeadroomLimit
{
    /// <summary>The greatest volts of a constant-current driver.</summary>
    DriverMostVolts,

    /// <summary>The greatest watts of the driver.</summary>
    DriverMostWatts,

    /// <summary>The greatest amps of a constant-voltage driver.</summary>
    DriverMostAmps,

    /// <summary>The least volts from which a constant-current driver regulates.</summary>
    DriverLeastVolts,

    /// <summary>The driver's limit is not recorded, so nothing could be checked against it.</summary>
    DriverLimitUnknown,

    /// <summary>The least volts that a fitting needs.</summary>
    FittingLeastVolts,

    /// <summary>The drop from the driver to a fitting on constant voltage.</summary>
    VoltageDrop,

    /// <summary>No voltage exists at which the cable carries the power.</summary>
    VoltageCollapse,

    /// <summary>The current that a conductor can carry.</summary>
    ConductorCurrent,

    /// <summary>The spare cores of a cable.</summary>
    SpareCores,

    /// <summary>The voltage that can be touched.</summary>
    TouchVoltage,
}

/// <summary>One reason for an answer other than yes.</summary>
/// <param name="Limit">What it is about.</param>
/// <param name="Refuses">Whether it makes the answer a no; otherwise it is to be minded.</param>
/// <param name="Place">The fitting or run it is about, or "driver".</param>
/// <param name="Text">The same in plain words.</param>
/// <param name="Source">Where the limit comes from.</param>
public sealed record HeadroomReason(HeadroomLimit Limit, bool Refuses, string Place, string Text, string Source)
{
    /// <summary>The figure held against the limit, in <see cref="Unit"/>; null where there is none.</summary>
    public double? Value { get; init; }

    /// <summary>The limit, in the same unit; null where it is not known.</summary>
    public double? LimitValue { get; init; }

    /// <summary>Unit of both: "V", "W", "A", "%" or "cores"; empty where there is no figure.</summary>
    public string Unit { get; init; } = "";

    /// <summary>Whether the circuit as built has the same fault already, before anything is added.</summary>
    public bool AlreadySo { get; init; }
}

/// <summary>What was found. A plain record that can be stored as JSON.</summary>
public sealed record HeadroomAnswer
{
    /// <summary>What must be kept in mind with every change to a circuit.</summary>
    public const string CautionText =
        "Isolate, prove dead and follow the local code before a circuit is opened; the mains side is for competent, "
        + "licensed persons. This answer is advice from the record and certifies nothing.";

    /// <summary>The version of the models behind it.</summary>
    public int ModelVersion { get; init; } = Expected.ModelVersion;

    /// <summary>The answer.</summary>
    public required MayBeAdded May { get; init; }

    /// <summary>The answer in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The reasons for anything but a plain yes; those that refuse come first.</summary>
    public ImmutableArray<HeadroomReason> Reasons { get; init; } = [];

    /// <summary>
    /// What the driver has left before the change; null where the circuit has no fitting yet or no operating point.
    /// </summary>
    public DriverHeadroom? Before { get; init; }

    /// <summary>
    /// What the driver would have left after it, negative where it would not suffice; null where the voltage collapses.
    /// </summary>
    public DriverHeadroom? After { get; init; }

    /// <summary>
    /// What the changed circuit should read, provided that its driver gives what is asked of it; null where the voltage
    /// collapses. Where the answer is no it says nothing of the driver's loading.
    /// </summary>
    public ExpectedReadings? Readings { get; init; }

    /// <summary>
    /// The volts at each fitting of the changed circuit, the new ones last; empty where it collapses.
    /// </summary>
    public ImmutableArray<FittingVolts> Fittings { get; init; } = [];

    /// <summary>How the voltage stands to the limits of extra-low voltage; the open-circuit voltage decides.</summary>
    public required TouchAssessment Touch { get; init; }

    /// <summary>The longest new run to the fittings, for each conductor area.</summary>
    public ImmutableArray<LongestRun> LongestRuns { get; init; } = [];

    /// <summary>
    /// Where the answer is no: the changes that make it possible, the cheapest first; each was worked out in full.
    /// </summary>
    public ImmutableArray<Proposal> Proposals { get; init; } = [];

    /// <summary>The circuit with the change.</summary>
    public required CircuitModel Changed { get; init; }

    /// <summary>The caution that belongs to it.</summary>
    public string Caution { get; init; } = CautionText;
}

/// <summary>What one fitting of the changed circuit gets.</summary>
/// <param name="FittingId">The fitting.</param>
/// <param name="IsNew">Whether it is one of those to be added.</param>
/// <param name="VoltsDc">The voltage across it, V DC.</param>
/// <param name="LeastVolts">The least voltage it needs, V DC; null where not recorded.</param>
/// <param name="DropPercent">
/// Drop from the driver, best estimate, % of the driver's volts; null for constant current, where the driver makes up
/// for it.
/// </param>
public sealed record FittingVolts(
    string FittingId, bool IsNew, Estimate VoltsDc, double? LeastVolts, double? DropPercent);

/// <summary>The longest new run of one conductor area.</summary>
/// <param name="AreaSquareMillimetres">Conductor area, mm².</param>
/// <param name="LengthMetres">
/// The longest length at which the answer is not no, m, rounded down to 0.1 m; null where even 0 m is too long. It ends
/// at
/// <see cref="LongestRuns.MostMetres"/>, the greatest length that is tried.
/// </param>
/// <param name="EndedBy">What refuses a longer one; null where none does up to the greatest length tried.</param>
public sealed record LongestRun(double AreaSquareMillimetres, double? LengthMetres, HeadroomLimit? EndedBy);

/// <summary>A change that makes it possible.</summary>
/// <param name="Steps">What to do: one or two steps, together.</param>
/// <param name="Cost">Its cost by the costs given; smaller is better.</param>
/// <param name="May">The answer with the change: yes, or yes but.</param>
/// <param name="Text">The same in plain words.</param>
public sealed record Proposal(ImmutableArray<ProposedStep> Steps, double Cost, MayBeAdded May, string Text)
{
    /// <summary>What is to be minded with it.</summary>
    public ImmutableArray<HeadroomReason> Reasons { get; init; } = [];

    /// <summary>What the driver would have left.</summary>
    public DriverHeadroom? After { get; init; }
}

/// <summary>Kinds of step that are tried.</summary>
public enum StepKind
{
    /// <summary>All the added fittings of another wattage.</summary>
    OtherWatts,

    /// <summary>The new run in a larger conductor.</summary>
    LargerNewRun,

    /// <summary>The fittings at a node nearer to the driver, with the same new run if there is one.</summary>
    NearerNode,

    /// <summary>Spare cores joined in parallel with a run that carries the circuit.</summary>
    SpareCoresInParallel,

    /// <summary>Fewer of the fittings.</summary>
    FewerFittings,

    /// <summary>A driver with other limits; its rated current or voltage stays.</summary>
    LargerDriver,

    /// <summary>A run that lies already, in a larger conductor.</summary>
    LargerExistingRun,
}

/// <summary>One step of a change; only what belongs to its kind is set.</summary>
/// <param name="Kind">What kind of step it is.</param>
/// <param name="Text">The same in plain words.</param>
public sealed record ProposedStep(StepKind Kind, string Text)
{
    /// <summary>The wattage of the added fittings, W.</summary>
    public double? Watts { get; init; }

    /// <summary>The conductor area, mm².</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>The run that is changed.</summary>
    public string? RunId { get; init; }

    /// <summary>The node that the fittings move to.</summary>
    public string? Node { get; init; }

    /// <summary>How many of the fittings stay.</summary>
    public int? FittingsLeft { get; init; }

    /// <summary>The limits that the driver must have at least, margin included.</summary>
    public DriverNeeded? Driver { get; init; }
}

/// <summary>The limits that a driver must have; null where the one there suffices or none is recorded.</summary>
/// <param name="MostVolts">Greatest volts at least, V DC, rounded up to 0.1 V.</param>
/// <param name="MostWatts">Greatest watts at least, W, rounded up to 0.1 W.</param>
/// <param name="MostAmps">Greatest amps at least, A, rounded up to 0.1 A.</param>
/// <param name="LeastVolts">The volts from which it regulates, at most, V DC.</param>
public sealed record DriverNeeded(double? MostVolts, double? MostWatts, double? MostAmps, double? LeastVolts);
