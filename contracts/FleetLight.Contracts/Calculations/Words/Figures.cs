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

    /// <summary>Whether a fitting is lit: 1 lit, 0 dark; the place is the fitting.</summary>
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

    /// <summary>A fitting that goes dark gets enough voltage again as soon as it is dark: it may start and stop.</summary>
    FittingStartsAndStops,

    /// <summary>The stated uncertainty, a first-order figure, is not enough here; a simulation tells it.</summary>
    FirstOrderNotEnough,
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

/// <summary>How uncertainty is worked out.</summary>
public enum UncertaintyMethod
{
    /// <summary>First-order propagation (GUM, JCGM 100), with an uncertainty budget.</summary>
    FirstOrder,

    /// <summary>The same, and a simulation (Monte Carlo, JCGM 101) beside it.</summary>
    MonteCarlo,
}
