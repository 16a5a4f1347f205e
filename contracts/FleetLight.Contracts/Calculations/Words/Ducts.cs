namespace FleetLight.Contracts.Calculations;

/// <summary>By which published rule a duct counts as full. Each is guidance or a rule of its own country.</summary>
public enum FillRule
{
    /// <summary>45 % of the bore's cross-section, whatever the number of cables (IET On-Site Guide).</summary>
    SpaceFactor,

    /// <summary>53 % for one cable, 31 % for two, 40 % for more (NFPA 70 chapter 9 table 1).</summary>
    ByNumberOfCables,
}

/// <summary>By which published rule the pull on a cable is limited. The maker's own figure goes before either.</summary>
public enum PermittedPull
{
    /// <summary>50 N for each mm² of copper (European cable construction standards).</summary>
    FiftyNewtons,

    /// <summary>70.2 N for each mm² of copper (guides by an ICEA study: 0.008 lbf per circular mil).</summary>
    SeventyNewtons,
}

/// <summary>How the rope takes hold of the cable.</summary>
public enum RopeGrip
{
    /// <summary>An eye on the conductors.</summary>
    Eye,

    /// <summary>A basket over the sheath.</summary>
    Basket,
}

/// <summary>What holds a cable together besides its conductors.</summary>
public enum CableArmour
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>Steel wires.</summary>
    SteelWire,

    /// <summary>Steel tape.</summary>
    SteelTape,
}

/// <summary>From which end of a duct to pull.</summary>
public enum PullingEnd
{
    /// <summary>From where the route ends; the cable is fed in where it begins.</summary>
    RouteEnd,

    /// <summary>From where the route begins; the cable is fed in where it ends.</summary>
    RouteBeginning,

    /// <summary>Both ends take the same force.</summary>
    Either,
}
