namespace FleetLight.Contracts.Calculations;

/// <summary>What it takes to get at the conductors of a place.</summary>
public enum ReachOfPlace
{
    /// <summary>They are at hand, as at a driver.</summary>
    AtHand,

    /// <summary>A box whose lid lies at the surface.</summary>
    OpenToReach,

    /// <summary>A fitting that has to be loosened or opened.</summary>
    Fitting,

    /// <summary>A box in the ground that has to be dug out.</summary>
    NeedsDigging,
}

/// <summary>Why to stop measuring.</summary>
public enum StopMeasuringReason
{
    /// <summary>One explanation, or several that need the same done at the same place, is as likely as asked for.</summary>
    OneExplanation,

    /// <summary>Explanations that nothing here can tell apart are together as likely as asked for.</summary>
    OneGroup,

    /// <summary>Nothing that can be measured here tells enough for its effort.</summary>
    NothingTellsEnough,

    /// <summary>Nothing can be worked out for the circuit; <c>noAnswer</c> says why.</summary>
    NothingKnown,
}
