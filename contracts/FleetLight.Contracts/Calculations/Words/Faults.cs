namespace FleetLight.Contracts.Calculations;

/// <summary>Kinds of explanation for readings.</summary>
public enum KindOfFault
{
    /// <summary>Nothing is wrong: the circuit is as designed and the rest is tolerance.</summary>
    AsDesigned,

    /// <summary>One fitting has another wattage than designed, one of the catalogue.</summary>
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

    /// <summary>One fitting has a wattage that is in no catalogue.</summary>
    FittingOfUnlistedWattage,

    /// <summary>Two fittings have other wattages than designed.</summary>
    TwoFittingsOfOtherWattage,

    /// <summary>One fitting carries no current: burnt out, or its joint has come apart.</summary>
    FittingOpen,

    /// <summary>One fitting is made for the other kind of drive.</summary>
    FittingForOtherDrive,

    /// <summary>Water in a joint leads from one core to the other.</summary>
    WaterInJoint,

    /// <summary>A cable has another conductor area than recorded.</summary>
    WrongConductorArea,

    /// <summary>Plus and minus are exchanged at the driver's output.</summary>
    SupplyReversed,

    /// <summary>The meter was read on the wrong range.</summary>
    MeterOnWrongRange,

    /// <summary>The meter's leads were exchanged.</summary>
    MeterLeadsReversed,
}
