namespace FleetLight.Contracts;

/// <summary>How a position was found.</summary>
public enum PositionMethod
{
    /// <summary>By a phone's own receiver.</summary>
    Phone,

    /// <summary>By a satellite receiver made for surveying.</summary>
    Gnss,

    /// <summary>By tape from reference points: distances, or an offset from a baseline.</summary>
    Tape,

    /// <summary>Paced out, or estimated by eye.</summary>
    Estimated,

    /// <summary>Taken from a plan.</summary>
    Plan,
}

/// <summary>A side of a line, seen from its first point towards its second.</summary>
public enum SideOfLine
{
    /// <summary>To the left.</summary>
    Left,

    /// <summary>To the right.</summary>
    Right,
}

/// <summary>What came of a measured place.</summary>
public enum PlacementStanding
{
    /// <summary>It has a place.</summary>
    Placed,

    /// <summary>Two places fit the tapes, one on each side of the line between the reference points, and nothing tells which.</summary>
    TwoPlaces,

    /// <summary>The geometry is too weak: the thing and its reference points lie nearly on one line.</summary>
    Collinear,

    /// <summary>The tapes cannot meet anywhere: at least one of them is wrong.</summary>
    NoMeeting,

    /// <summary>A reference point that it was measured from has no place itself.</summary>
    Waiting,
}
