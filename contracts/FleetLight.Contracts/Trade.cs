namespace FleetLight.Contracts;

/// <summary>How a driver feeds its fittings.</summary>
public enum DriveKind
{
    /// <summary>One regulated current through all fittings in series; the voltage follows from the load.</summary>
    ConstantCurrent,

    /// <summary>One regulated voltage across all fittings in parallel; the current follows from the load.</summary>
    ConstantVoltage,
}

/// <summary>Copper conductor class of IEC 60228.</summary>
public enum ConductorClass
{
    /// <summary>Class 1: solid.</summary>
    Class1,

    /// <summary>Class 2: stranded.</summary>
    Class2,

    /// <summary>Class 5: flexible.</summary>
    Class5,
}

/// <summary>Where a cable run lies, which sets its conductor temperature.</summary>
public enum RunSurroundings
{
    /// <summary>In the ground, alone or in a duct.</summary>
    Buried,

    /// <summary>In open air, clipped or hung.</summary>
    InAir,

    /// <summary>In a warm enclosure beside running equipment.</summary>
    WarmBox,
}
