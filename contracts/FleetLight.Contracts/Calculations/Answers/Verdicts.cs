namespace FleetLight.Contracts.Calculations.Answers;

/// <summary>Verdicts on readings.</summary>
public sealed record VerdictAnswer : CircuitAnswer
{
    /// <summary>One verdict for each reading, in their order; empty where <c>noAnswer</c> says why.</summary>
    public required IReadOnlyList<JudgedReading> Verdicts { get; init; }

    /// <summary>
    /// The judgement of all readings together: the rule's risk of failing a good circuit holds for it, and not for the worst of
    /// several single verdicts. None where fewer than two stand beside each other, or the circuit has more than 500 fittings and
    /// runs together.
    /// </summary>
    public JudgedTogether? Together { get; init; }
}

/// <summary>
/// The judgement of several readings of one circuit together. They share what is uncertain about the circuit and the meter, so
/// readings that are each within may contradict one another, and several somewhat off may agree. Advice, never a certificate.
/// </summary>
public sealed record JudgedTogether
{
    /// <summary>The judgement.</summary>
    public required ReadingVerdict Verdict { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>Number of places and quantities that were compared, no unit; repeated readings count once, by their mean.</summary>
    public required int Compared { get; init; }

    /// <summary>Of circuits that are as designed, the share whose readings would lie farther off, %.</summary>
    public double? FartherOffPercent { get; init; }

    /// <summary>Probability, %, that the circuit is as designed, given all readings.</summary>
    public double? AsDesignedPercent { get; init; }

    /// <summary>Risk, %, of failing a good circuit: probability that the set is called outside though all is as designed.</summary>
    public double? FalseAlarmPercent { get; init; }

    /// <summary>Index of the reading in the request, no unit, that fits least with the others and the design.</summary>
    public int? LeastFitting { get; init; }
}

/// <summary>The judgement of one reading. Advice, never a certificate.</summary>
public sealed record JudgedReading
{
    /// <summary>Where it was taken.</summary>
    public required string Place { get; init; }

    /// <summary>What was measured, and so the unit of every figure here.</summary>
    public required MeasuredAs Quantity { get; init; }

    /// <summary>The reading, in its own unit.</summary>
    public required double Value { get; init; }

    /// <summary>The judgement.</summary>
    public required ReadingVerdict Verdict { get; init; }

    /// <summary>Why, for programs.</summary>
    public required ReadingVerdictReason Reason { get; init; }

    /// <summary>Why, in plain words.</summary>
    public required string Text { get; init; }

    /// <summary>What a sound circuit should read, in the unit of the reading.</summary>
    public double? Expected { get; init; }

    /// <summary>Combined standard uncertainty of design and meter, in the unit of the reading.</summary>
    public double? StandardUncertainty { get; init; }

    /// <summary>Lower end of the 95 % interval of design and meter, or the least permitted, in the unit of the reading.</summary>
    public double? Low { get; init; }

    /// <summary>Upper end of the 95 % interval of design and meter, in the unit of the reading.</summary>
    public double? High { get; init; }

    /// <summary>Number of standard uncertainties by which the reading is off, positive where it is high.</summary>
    public double? Deviations { get; init; }

    /// <summary>Half the 95 % interval of the design alone, in the unit of the reading.</summary>
    public double? Tolerance { get; init; }

    /// <summary>
    /// The guard band (JCGM 106) between tolerance and acceptance, in the unit of the reading: readings within ± (tolerance −
    /// guard band) of the expected are within; against a minimum, readings from minimum + guard band up.
    /// </summary>
    public double? GuardBand { get; init; }

    /// <summary>How far off a reading must be to be outside, in the unit of the reading.</summary>
    public double? OutsideBeyond { get; init; }

    /// <summary>
    /// Probability, %, that the circuit is as designed, given this reading alone; against a minimum, that the true value
    /// reaches it.
    /// </summary>
    public double? AsDesignedPercent { get; init; }

    /// <summary>
    /// Risk, %, of passing a bad circuit: of those that such a measurement calls within, the share that is not as designed.
    /// Against a minimum: probability that a true value just below it is called within.
    /// </summary>
    public double? MissedFaultPercent { get; init; }

    /// <summary>
    /// Risk, %, of failing a good circuit: probability that such a measurement calls a circuit outside that is as designed.
    /// </summary>
    public double? FalseAlarmPercent { get; init; }
}
