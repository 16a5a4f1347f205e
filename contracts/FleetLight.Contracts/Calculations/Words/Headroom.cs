namespace FleetLight.Contracts.Calculations;

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
