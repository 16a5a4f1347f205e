namespace FleetLight.Electrics;

/// <summary>Kinds of explanation for a reading.</summary>
public enum FaultKind
{
    /// <summary>Nothing is wrong: the circuit is as designed and the rest is tolerance.</summary>
    AsDesigned,

    /// <summary>One fitting has another wattage than designed.</summary>
    FittingOfOtherWattage,

    /// <summary>One fitting is shorted: current passes it, it does not light.</summary>
    FittingShorted,

    /// <summary>
    /// One fitting is missing: in a series loop bridged in its joint, in a parallel circuit not taking power.
    /// </summary>
    FittingMissing,

    /// <summary>There is one fitting more than designed.</summary>
    OneFittingTooMany,

    /// <summary>One fitting is connected the wrong way round; it does not light and may be destroyed.</summary>
    FittingReversed,

    /// <summary>The current's path is broken.</summary>
    OpenLoop,

    /// <summary>The driver gives another current or voltage than designed.</summary>
    WrongDriverOutput,

    /// <summary>A joint or terminal has a high resistance.</summary>
    HighResistanceJoint,

    /// <summary>The cable is longer than recorded.</summary>
    CableLonger,

    /// <summary>The cable is shorter than recorded.</summary>
    CableShorter,

    /// <summary>The driver is at a limit of its rating and no longer regulates.</summary>
    DriverAtLimit,

    /// <summary>The two cores touch.</summary>
    ShortBetweenCores,

    /// <summary>The driver gives nothing.</summary>
    DriverNoOutput,

    /// <summary>None of the faults in the catalogue explains the readings.</summary>
    NoneOfThese,
}
