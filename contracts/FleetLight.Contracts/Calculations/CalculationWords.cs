namespace FleetLight.Contracts.Calculations;

/// <summary>What a reading measured, and so its unit.</summary>
public enum MeasuredAs
{
    /// <summary>Direct voltage, V: across the driver's output, across a fitting, between the cores in a box.</summary>
    VoltsDc,

    /// <summary>Direct current, mA.</summary>
    Milliamps,

    /// <summary>Resistance of the cable loop, Ω: driver off and disconnected, fittings bridged.</summary>
    LoopOhms,

    /// <summary>Insulation resistance, MΩ.</summary>
    MegohmsInsulation,

    /// <summary>Whether a fitting is lit: 1 lit, 0 dark.</summary>
    FittingLit,
}

/// <summary>Where uncertainty comes from.</summary>
public enum BudgetSource
{
    /// <summary>The driver's output differs from its rating; it acts on every fitting at once.</summary>
    DriverOutput,

    /// <summary>Each fitting's power differs from its rating, each on its own.</summary>
    FittingPower,

    /// <summary>The fittings are colder or warmer than their rating assumes, all together.</summary>
    FittingTemperature,

    /// <summary>Each recorded length is somewhat wrong, each on its own.</summary>
    CableLength,

    /// <summary>The conductors are colder or warmer than assumed, together where they lie alike.</summary>
    ConductorTemperature,

    /// <summary>The conductors lie somewhere below the IEC 60228 maximum, all together.</summary>
    ConductorResistance,

    /// <summary>The meter.</summary>
    Meter,
}

/// <summary>Why a sound request has no figures for an answer.</summary>
public enum NoAnswerReason
{
    /// <summary>No voltage exists at which the cable carries the power: the voltage collapses.</summary>
    VoltageCollapse,

    /// <summary>The fittings need more voltage, current or power than the driver gives.</summary>
    BeyondDriver,

    /// <summary>The fittings need less voltage than the driver can regulate to.</summary>
    BelowDriver,
}

/// <summary>Kinds of remark on a circuit.</summary>
public enum RemarkCode
{
    /// <summary>The driver runs near or, within the uncertainty, beyond a limit of its rating.</summary>
    DriverNearLimit,

    /// <summary>The driver runs, within the uncertainty, below the least voltage it regulates to.</summary>
    DriverNearLeastVolts,

    /// <summary>A fitting gets less than the least voltage it needs.</summary>
    FittingBelowLeastVolts,

    /// <summary>The cable drops so much that the stated uncertainty, a first-order figure, is too small.</summary>
    CloseToCollapse,
}

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

/// <summary>How a circuit's voltage stands to the limits of extra-low voltage. Advice, never a certificate.</summary>
public enum TouchLimit
{
    /// <summary>SELV or PELV up to 12 V AC or 30 V DC: basic protection is not needed even where wet.</summary>
    BareWhereWet,

    /// <summary>SELV or PELV up to 25 V AC or 60 V DC: basic protection is not needed where normally dry.</summary>
    BareWhereDry,

    /// <summary>Extra-low voltage, up to 50 V AC or 120 V DC, with basic protection everywhere.</summary>
    NeedsBasicProtection,

    /// <summary>Above extra-low voltage.</summary>
    AboveExtraLowVoltage,

    /// <summary>The voltage is not known.</summary>
    Unknown,
}

/// <summary>Which of the driver's voltages a touch limit was held against.</summary>
public enum TouchBasis
{
    /// <summary>The open-circuit voltage, which is the one that counts.</summary>
    OpenCircuitVolts,

    /// <summary>The greatest regulated voltage; the open-circuit voltage may be higher.</summary>
    MostVolts,

    /// <summary>The rated voltage; the open-circuit voltage may be higher.</summary>
    RatedVolts,

    /// <summary>None is given.</summary>
    None,
}

/// <summary>Whether fittings may be added. Advice, never a certificate.</summary>
public enum MayAdd
{
    /// <summary>Nothing speaks against it, with the margin kept.</summary>
    Yes,

    /// <summary>It may be done; the reasons name what to mind, or what could not be checked.</summary>
    YesBut,

    /// <summary>At least one limit would be passed.</summary>
    No,
}

/// <summary>The limit that a reason against adding fittings is about.</summary>
public enum AddingLimit
{
    /// <summary>The greatest volts of a constant-current driver.</summary>
    DriverMostVolts,

    /// <summary>The greatest watts of the driver.</summary>
    DriverMostWatts,

    /// <summary>The greatest amps of a constant-voltage driver.</summary>
    DriverMostAmps,

    /// <summary>The least volts from which a constant-current driver regulates.</summary>
    DriverLeastVolts,

    /// <summary>The driver's limit is not given, so nothing could be checked against it.</summary>
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

/// <summary>Kinds of step that would make adding fittings possible.</summary>
public enum AddingStep
{
    /// <summary>All the added fittings of another wattage.</summary>
    OtherWatts,

    /// <summary>The new run in a larger conductor.</summary>
    LargerNewRun,

    /// <summary>The fittings at a place nearer to the driver.</summary>
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
