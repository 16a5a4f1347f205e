using FleetLight.Contracts;

namespace FleetLight.PageParts.Wording;

/// <summary>Words of places and how they were found.</summary>
public static partial class PlainWords
{
    /// <summary>How a position was found.</summary>
    public static string Of(PositionMethod method) => method switch
    {
        PositionMethod.Phone => "By phone",
        PositionMethod.Gnss => "By surveying receiver",
        PositionMethod.Tape => "By tape",
        PositionMethod.Estimated => "Paced or by eye",
        PositionMethod.Plan => "From a plan",
        _ => Unworded(method),
    };

    /// <summary>A side of a line, seen from its first point.</summary>
    public static string Of(SideOfLine side) => side switch
    {
        SideOfLine.Left => "Left, seen from the first point towards the second",
        SideOfLine.Right => "Right, seen from the first point towards the second",
        _ => Unworded(side),
    };

    /// <summary>What came of a measured place.</summary>
    public static string Of(PlacementStanding standing) => standing switch
    {
        PlacementStanding.Placed => "Placed",
        PlacementStanding.TwoPlaces => "Two places fit",
        PlacementStanding.Collinear => "All on one line: it cannot be told",
        PlacementStanding.NoMeeting => "The tapes do not meet",
        PlacementStanding.Waiting => "Waits for its reference points",
        _ => Unworded(standing),
    };
}
