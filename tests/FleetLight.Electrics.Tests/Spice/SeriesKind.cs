namespace FleetLight.Electrics.Tests.Spice;

/// <summary>The kinds of generated constant-current loops.</summary>
public enum SeriesKind
{
    AsRecorded,
    InBranches,
    InSingleCores,
    AtGreatestVolts,
    AtGreatestWatts,
    CoresShorted,
    CoresLeaking,
    LeakAtGreatestVolts,
    FittingShorted,
    FittingBypassedByDiode,
    FittingOpen,
    RunOpen,
    JointWithResistance,
    OtherWattage,
    OtherDriverCurrent,
    OtherArea,
    OtherLength,
    SupplyReversed,
    MadeForConstantVoltage,
    OneFittingMore,
    SeveralFaults,
    NoOutput,
}
