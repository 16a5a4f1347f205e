namespace FleetLight.Electrics;

/// <summary>How a reading compares with what a sound circuit should read. Advice, never a certificate.</summary>
public enum VerdictKind
{
    /// <summary>Inside the 95 % interval of design and meter together.</summary>
    Within,

    /// <summary>Outside the 95 % interval but no further off than one sound circuit in 300 would be.</summary>
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
}
