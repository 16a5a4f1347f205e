namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>Whether fittings may be added to a circuit, and what would make it possible. Advice, never a certificate.</summary>
public sealed record HeadroomAnswer : CalculationAnswer
{
    /// <summary>The answer.</summary>
    public required MayAdd May { get; init; }

    /// <summary>The answer in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The caution that belongs to it.</summary>
    public required string Caution { get; init; }

    /// <summary>The reasons for anything but a plain yes; those that refuse come first.</summary>
    public required IReadOnlyList<HeadroomReasonAnswer> Reasons { get; init; }

    /// <summary>What the driver has left before; left out where the circuit has no fitting yet or cannot work.</summary>
    public DriverLeft? Before { get; init; }

    /// <summary>What the driver would have left; left out where the voltage collapses.</summary>
    public DriverLeft? After { get; init; }

    /// <summary>
    /// What the changed circuit should read, provided that its driver gives what is asked of it; left out where the voltage
    /// collapses.
    /// </summary>
    public ExpectedFigures? Expected { get; init; }

    /// <summary>Each fitting of the changed circuit, the new ones last; empty where the voltage collapses.</summary>
    public required IReadOnlyList<FittingThen> Fittings { get; init; }

    /// <summary>How the driver's voltage stands to the limits of extra-low voltage.</summary>
    public required TouchAnswer Touch { get; init; }

    /// <summary>The longest new run to the fittings, for each conductor area.</summary>
    public required IReadOnlyList<LongestRunAnswer> LongestRuns { get; init; }

    /// <summary>Where the answer is no: the changes that make it possible, the cheapest first; each was worked out in full.</summary>
    public required IReadOnlyList<ProposalAnswer> Proposals { get; init; }
}

/// <summary>One reason for an answer other than yes.</summary>
public sealed record HeadroomReasonAnswer
{
    /// <summary>The limit it is about.</summary>
    public required AddingLimit Limit { get; init; }

    /// <summary>Whether it makes the answer a no; otherwise it is to be minded.</summary>
    public required bool Refuses { get; init; }

    /// <summary>Whether the circuit as built has the same fault already, before anything is added.</summary>
    public required bool AlreadySo { get; init; }

    /// <summary>The fitting or run it is about, or <c>driver</c>.</summary>
    public required string Place { get; init; }

    /// <summary>The same in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The figure that is held against the limit, in the unit named beside it.</summary>
    public double? Value { get; init; }

    /// <summary>The limit, in the same unit.</summary>
    public double? LimitValue { get; init; }

    /// <summary>Unit of both: V, W, A, % or cores; left out where there is no figure.</summary>
    public string? Unit { get; init; }

    /// <summary>Where the limit comes from.</summary>
    public required string Source { get; init; }
}

/// <summary>What a driver has left. What is not given of its rating is left out; what is exceeded is negative.</summary>
public sealed record DriverLeft
{
    /// <summary>Greatest output voltage less the expected one, in V DC (constant current).</summary>
    public double? VoltsDc { get; init; }

    /// <summary>Greatest output power less the expected one, in W.</summary>
    public double? Watts { get; init; }

    /// <summary>Greatest output current less the expected one, in A (constant voltage).</summary>
    public double? Amps { get; init; }

    /// <summary>The same at the upper end of the voltage's 95 % interval, in V DC (constant current).</summary>
    public double? VoltsDcAtHigh { get; init; }

    /// <summary>The same at the upper end of the power's 95 % interval, in W.</summary>
    public double? WattsAtHigh { get; init; }

    /// <summary>The same at the upper end of the current's 95 % interval, in A (constant voltage).</summary>
    public double? AmpsAtHigh { get; init; }

    /// <summary>
    /// Lower end of the voltage's 95 % interval less the least voltage at which the driver regulates, in V DC (constant current).
    /// </summary>
    public double? VoltsDcAboveLeast { get; init; }
}

/// <summary>What one fitting of the changed circuit gets.</summary>
public sealed record FittingThen
{
    /// <summary>The fitting.</summary>
    public required string FittingId { get; init; }

    /// <summary>Whether it is one of those to be added.</summary>
    public required bool IsNew { get; init; }

    /// <summary>The voltage across it, in V DC.</summary>
    public required EstimatedValue VoltsDc { get; init; }

    /// <summary>The least voltage it needs, in V DC.</summary>
    public double? LeastVolts { get; init; }

    /// <summary>Drop from the driver, best estimate, % of the driver's volts (constant voltage).</summary>
    public double? DropPercent { get; init; }
}

/// <summary>The longest new run of one conductor area.</summary>
public sealed record LongestRunAnswer
{
    /// <summary>Conductor area, in mm².</summary>
    public required double AreaSquareMillimetres { get; init; }

    /// <summary>
    /// The longest length at which the answer is not no, in m, rounded down to 0.1 m and at most 10,000; left out where even 0 m
    /// is too long.
    /// </summary>
    public double? LengthMetres { get; init; }

    /// <summary>What refuses a longer one; left out where none does up to the greatest length tried.</summary>
    public AddingLimit? EndedBy { get; init; }
}

/// <summary>A change that makes it possible.</summary>
public sealed record ProposalAnswer
{
    /// <summary>What to do: one or two steps, together.</summary>
    public required IReadOnlyList<ProposalStep> Steps { get; init; }

    /// <summary>Its cost by the costs given, in their unit; smaller is better.</summary>
    public required double Cost { get; init; }

    /// <summary>The answer with the change.</summary>
    public required MayAdd May { get; init; }

    /// <summary>The same in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>What is to be minded with it.</summary>
    public required IReadOnlyList<HeadroomReasonAnswer> Reasons { get; init; }

    /// <summary>What the driver would have left.</summary>
    public DriverLeft? After { get; init; }
}

/// <summary>One step of a change; only what belongs to its kind is there.</summary>
public sealed record ProposalStep
{
    /// <summary>What kind of step it is.</summary>
    public required AddingStep Kind { get; init; }

    /// <summary>The same in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>The wattage of the added fittings, in W.</summary>
    public double? Watts { get; init; }

    /// <summary>The conductor area, in mm².</summary>
    public double? AreaSquareMillimetres { get; init; }

    /// <summary>The run that is changed.</summary>
    public string? RunId { get; init; }

    /// <summary>The place that the fittings move to.</summary>
    public string? Place { get; init; }

    /// <summary>Number of the fittings that stay.</summary>
    public int? FittingsLeft { get; init; }

    /// <summary>The limits that the driver must have at least, margin included.</summary>
    public DriverNeeds? Driver { get; init; }
}

/// <summary>The limits that a driver must have. What suffices already is left out.</summary>
public sealed record DriverNeeds
{
    /// <summary>Greatest output voltage at least, in V DC.</summary>
    public double? MostVolts { get; init; }

    /// <summary>Greatest output power at least, in W.</summary>
    public double? MostWatts { get; init; }

    /// <summary>Greatest output current at least, in A.</summary>
    public double? MostAmps { get; init; }

    /// <summary>The voltage from which it regulates, at most, in V DC.</summary>
    public double? LeastVolts { get; init; }
}
