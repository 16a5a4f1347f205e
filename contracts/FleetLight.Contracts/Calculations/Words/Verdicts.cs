namespace FleetLight.Contracts.Calculations;

/// <summary>How a reading compares with what a sound circuit should read. Advice, never a certificate.</summary>
public enum ReadingVerdict
{
    /// <summary>
    /// Inside the 95 % interval of design and meter together, and near enough that the risk of passing a bad circuit is kept.
    /// </summary>
    Within,

    /// <summary>Not within, and no further off than the risk of failing a good circuit allows.</summary>
    Doubtful,

    /// <summary>Further off than tolerances explain.</summary>
    Outside,

    /// <summary>There is nothing to compare with.</summary>
    CannotBeJudged,
}

/// <summary>Why a verdict is what it is.</summary>
public enum ReadingVerdictReason
{
    /// <summary>The reading was compared with the expected value.</summary>
    Compared,

    /// <summary>The reading was compared with a minimum.</summary>
    ComparedWithMinimum,

    /// <summary>What the circuit should read is not known.</summary>
    NothingExpected,

    /// <summary>Nothing is worked out for this quantity at this place.</summary>
    NotExpectedHere,

    /// <summary>The reading is not a number, infinite or impossible.</summary>
    BadReading,

    /// <summary>The meter's accuracy is outside its range.</summary>
    BadMeter,

    /// <summary>A risk of the decision rule is outside its range.</summary>
    BadRule,
}
