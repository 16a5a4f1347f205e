namespace FleetLight.Electrics;

/// <summary>How a reading compares with what a sound circuit should read. Advice, never a certificate.</summary>
public enum VerdictKind
{
    /// <summary>
    /// Inside the 95 % interval of design and meter together, and near enough that the rule's risk of passing a bad
    /// circuit is kept.
    /// </summary>
    Within,

    /// <summary>Not within, and no further off than the rule's risk of failing a good circuit allows.</summary>
    Doubtful,

    /// <summary>Further off than tolerances explain.</summary>
    Outside,

    /// <summary>There is nothing to compare with, or the reading is unusable; the reason says which.</summary>
    CannotBeJudged,
}

/// <summary>Why a verdict is what it is.</summary>
public enum VerdictReason
{
    /// <summary>The reading was compared with the expected value.</summary>
    Compared,

    /// <summary>The reading was compared with a minimum.</summary>
    ComparedWithMinimum,

    /// <summary>What the circuit should read is not known; the text says why.</summary>
    NothingExpected,

    /// <summary>Nothing is worked out for this quantity at this place.</summary>
    NotExpectedHere,

    /// <summary>The reading is not a number, infinite or impossible.</summary>
    BadReading,

    /// <summary>The meter's accuracy is outside its range.</summary>
    BadMeter,

    /// <summary>A figure of the decision rule is outside its range.</summary>
    BadRule,
}

/// <summary>The judgement of one reading. Advice, never a certificate.</summary>
/// <param name="Kind">The judgement.</param>
/// <param name="Reason">Why, for programs.</param>
/// <param name="Text">Why, in plain words.</param>
public sealed record Verdict(VerdictKind Kind, VerdictReason Reason, string Text)
{
    /// <summary>What a sound circuit should read, in the unit of the reading; null where not known.</summary>
    public double? Expected { get; init; }

    /// <summary>Lower end of the 95 % interval of design and meter, in the unit of the reading.</summary>
    public double? Low { get; init; }

    /// <summary>Upper end of the 95 % interval of design and meter, in the unit of the reading.</summary>
    public double? High { get; init; }

    /// <summary>The reading, in its own unit; null where it was not a number.</summary>
    public double? Measured { get; init; }

    /// <summary>Combined standard uncertainty of design and meter, in the unit of the reading.</summary>
    public double? StandardUncertainty { get; init; }

    /// <summary>Deviation in standard uncertainties, positive where the reading is high.</summary>
    public double? Deviations { get; init; }

    /// <summary>
    /// The tolerance: half the 95 % interval of the design alone, in the unit of the reading. For a minimum null.
    /// </summary>
    public double? Tolerance { get; init; }

    /// <summary>
    /// The guard band (JCGM 106) between tolerance and acceptance, in the unit of the reading. Positive where less is
    /// accepted than the tolerance, to keep bad circuits from passing; negative where more is, because the meter may have
    /// erred. Readings within ± (tolerance − guard band) of the expected are within; for a minimum, readings from minimum
    /// + guard band up.
    /// </summary>
    public double? GuardBand { get; init; }

    /// <summary>
    /// How far off a reading must be to be outside, in the unit of the reading. For a minimum null: what is below is
    /// outside.
    /// </summary>
    public double? OutsideBeyond { get; init; }

    /// <summary>
    /// Probability that the circuit is as designed, given this reading alone and the rule's prior; for a minimum, that the
    /// true value reaches it.
    /// </summary>
    public double? ProbabilityAsDesigned { get; init; }

    /// <summary>
    /// Risk of passing a bad circuit: of those that such a measurement calls within, the share that is not as designed.
    /// For a minimum: probability that a true value just below it is called within.
    /// </summary>
    public double? RiskOfPassingBad { get; init; }

    /// <summary>
    /// Risk of failing a good circuit: probability that such a measurement calls a circuit outside that is as designed.
    /// For a minimum null, because it depends on how near to the minimum the circuit is.
    /// </summary>
    public double? RiskOfFailingGood { get; init; }
}
