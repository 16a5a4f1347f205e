namespace FleetLight.Demo.Planning;

/// <summary>What a circuit plays in the demo.</summary>
internal enum Role
{
    /// <summary>Built and read, nothing more.</summary>
    Plain,

    /// <summary>Planted: a fitting of 2.6 W where 1.6 W was designed.</summary>
    WrongWattage,

    /// <summary>Planted: a reversed fitting keeps the whole string dark.</summary>
    Reversed,

    /// <summary>Planted: a joint goes bad over months.</summary>
    JointGoingBad,

    /// <summary>Planted: the driver is near its greatest voltage.</summary>
    DriverNearLimit,

    /// <summary>Planted: a duct was not plugged again after the last pull.</summary>
    DuctLeftOpen,

    /// <summary>Planted: no string was left after the last pull.</summary>
    StringForgotten,

    /// <summary>Planted: a box flat in the ground without gel.</summary>
    BoxWithoutGel,

    /// <summary>Planted: a duct without a label.</summary>
    DuctUnlabelled,

    /// <summary>Planted: a duct of another colour than its service calls for.</summary>
    DuctWrongColour,

    /// <summary>Planted: three conductors in a connector of a series joint.</summary>
    ThreeInConnector,

    /// <summary>Day-to-day: a reading typed wrongly and withdrawn.</summary>
    ReadingWithdrawn,

    /// <summary>Day-to-day: a cable length recorded wrongly and replaced.</summary>
    LengthReplaced,

    /// <summary>Day-to-day: one box under two ids, joined later.</summary>
    BoxUnderTwoIds,

    /// <summary>Day-to-day: a length typed in millimetres, which the service refuses.</summary>
    LengthMistyped,

    /// <summary>Day-to-day: a broken fitting, reported and replaced.</summary>
    FittingMended,

    /// <summary>Day-to-day: a wet joint, reported and remade.</summary>
    JointMended,

    /// <summary>Day-to-day: a fitting replaced by another of other power, and recorded so.</summary>
    FittingChanged,
}
