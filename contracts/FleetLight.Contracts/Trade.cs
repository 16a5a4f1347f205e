namespace FleetLight.Contracts;

/// <summary>How a driver feeds its fittings.</summary>
public enum DriveKind
{
    /// <summary>One regulated current through all fittings in series; the voltage follows from the load.</summary>
    ConstantCurrent,

    /// <summary>One regulated voltage across all fittings in parallel; the current follows from the load.</summary>
    ConstantVoltage,
}

/// <summary>How the current of a fitting on constant voltage follows its voltage.</summary>
public enum LoadKind
{
    /// <summary>A switching converter: the power stays, so the current rises as the voltage falls.</summary>
    ConstantPower,

    /// <summary>A linear regulator: the current stays.</summary>
    ConstantCurrent,

    /// <summary>A filament or a resistor: the current falls with the voltage.</summary>
    Resistive,
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

/// <summary>What a duct is laid for. The service is what was intended, never inferred from a colour.</summary>
public enum DuctService
{
    /// <summary>Extra-low-voltage lighting circuits.</summary>
    LightingExtraLowVoltage,

    /// <summary>Mains supply to lighting equipment or other loads.</summary>
    MainsSupply,

    /// <summary>Telephone and data.</summary>
    Telecoms,

    /// <summary>Water, including irrigation.</summary>
    Water,

    /// <summary>Gas.</summary>
    Gas,

    /// <summary>Laid empty for later use.</summary>
    Spare,
}

/// <summary>Colour of a duct as seen.</summary>
public enum DuctColour
{
    /// <summary>Black.</summary>
    Black,

    /// <summary>Red.</summary>
    Red,

    /// <summary>Orange.</summary>
    Orange,

    /// <summary>Blue.</summary>
    Blue,

    /// <summary>Yellow.</summary>
    Yellow,

    /// <summary>Green.</summary>
    Green,

    /// <summary>Grey.</summary>
    Grey,

    /// <summary>Purple.</summary>
    Purple,

    /// <summary>White.</summary>
    White,

    /// <summary>Any other colour.</summary>
    Other,
}

/// <summary>Build of a duct's wall.</summary>
public enum DuctWall
{
    /// <summary>Corrugated outside, smooth inside.</summary>
    TwinWall,

    /// <summary>Corrugated inside and outside, easily bent.</summary>
    SingleWallCorrugated,

    /// <summary>Smooth rigid wall.</summary>
    SmoothRigid,

    /// <summary>Smooth bendable pipe, as used for water.</summary>
    SmoothFlexible,
}

/// <summary>One of the two ends of a duct or a cable.</summary>
public enum RunEnd
{
    /// <summary>The end nearer the supply.</summary>
    Near,

    /// <summary>The end further from the supply.</summary>
    Far,
}

/// <summary>How a draw string got into a duct.</summary>
public enum StringMethod
{
    /// <summary>Pulled through, by an earlier string or behind a cable.</summary>
    Pulled,

    /// <summary>Pushed through on a rod.</summary>
    PushedByRod,

    /// <summary>Blown or sucked through on air.</summary>
    Blown,

    /// <summary>Already in the duct when it was laid.</summary>
    LaidIn,
}

/// <summary>What a core is used for.</summary>
public enum CoreUse
{
    /// <summary>Carries a circuit.</summary>
    Circuit,

    /// <summary>Free for later use.</summary>
    Spare,

    /// <summary>Protective conductor.</summary>
    ProtectiveEarth,
}

/// <summary>Polarity that a sleeve on a core says it carries.</summary>
public enum CorePolarity
{
    /// <summary>Positive, or the leg that leaves the driver.</summary>
    Positive,

    /// <summary>Negative, or the leg that returns to the driver.</summary>
    Negative,

    /// <summary>Link from one fitting of a series circuit to the next.</summary>
    SeriesLink,
}

/// <summary>How a box lies.</summary>
public enum BoxLie
{
    /// <summary>Flat in the ground.</summary>
    FlatInGround,

    /// <summary>On a ground spike.</summary>
    OnSpike,

    /// <summary>On a wall.</summary>
    OnWall,
}

/// <summary>How cables enter a box.</summary>
public enum BoxEntry
{
    /// <summary>Compression glands.</summary>
    Glands,

    /// <summary>A pierced membrane.</summary>
    Membrane,
}

/// <summary>How the electrical connection of a joint is arranged.</summary>
public enum JointArrangement
{
    /// <summary>Each connector passes the current from one core to one other.</summary>
    Series,

    /// <summary>A connector gathers several cores at one potential.</summary>
    Parallel,
}

/// <summary>Kind of a test.</summary>
public enum TestKind
{
    /// <summary>Insulation resistance between live conductors joined and earth.</summary>
    InsulationResistance,

    /// <summary>Continuity of a conductor.</summary>
    Continuity,

    /// <summary>Polarity.</summary>
    Polarity,

    /// <summary>Trip time of a residual current device on the mains side.</summary>
    ResidualCurrentDevice,
}

/// <summary>Type of residual current device.</summary>
public enum ResidualCurrentDeviceType
{
    /// <summary>General type, without delay.</summary>
    General,

    /// <summary>Type S, selective.</summary>
    Selective,
}

/// <summary>Where a reading was taken.</summary>
public enum ReadingPlaceKind
{
    /// <summary>At the driver's output.</summary>
    Driver,

    /// <summary>In a box; <c>placeId</c> names it.</summary>
    Box,

    /// <summary>At a fitting; <c>placeId</c> names it.</summary>
    Fitting,
}

/// <summary>What a reading measured.</summary>
public enum ReadingQuantity
{
    /// <summary>Direct voltage, V.</summary>
    VoltsDc,

    /// <summary>Direct current, mA.</summary>
    Milliamps,

    /// <summary>Loop resistance of the cable, driver off and disconnected, far end joined, Ω.</summary>
    LoopOhms,
}

/// <summary>What a correction does with the fact it names.</summary>
public enum CorrectionAction
{
    /// <summary>The fact no longer counts. Both are kept.</summary>
    Withdraw,

    /// <summary>The data in the correction counts in place of the fact's own. Both are kept.</summary>
    Replace,
}

/// <summary>Kinds of thing that keep a state.</summary>
public enum ThingKind
{
    /// <summary>A site.</summary>
    Site,

    /// <summary>A circuit: one driver and what hangs on it.</summary>
    Circuit,

    /// <summary>A duct.</summary>
    Duct,

    /// <summary>A cable.</summary>
    Cable,

    /// <summary>A box.</summary>
    Box,
}
