using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Record.Corrections;

namespace FleetLight.Record.Positions;

/// <summary>The plane that a reference point is known in.</summary>
/// <param name="Name">Reference points of the same plane can be measured from together.</param>
/// <param name="Earth">How it lies on the earth; none for a plane of the site's own.</param>
public sealed record PlaneFrame(string Name, TangentPlane? Earth);

/// <summary>A reference point after the adjustment.</summary>
public sealed record ReferencePoint
{
    /// <summary>The newest fact of it.</summary>
    public required Counted<ReferencePointRecorded> Recorded { get; init; }

    /// <summary>The plane.</summary>
    public required PlaneFrame Frame { get; init; }

    /// <summary>What came of it.</summary>
    public required PlacementStanding Standing { get; init; }

    /// <summary>Where it is in its plane; none where it has no place.</summary>
    public PlanePoint? At { get; init; }

    /// <summary>Which adjustment it is of, and its number there: points of different ones are not correlated.</summary>
    internal (int Group, int Number) Place { get; init; }

    /// <summary>What is to be said of it, in plain words.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>Chi-square of its adjustment and the number of measurements more than needed; none where nothing controls it.</summary>
    internal (double ChiSquare, int Freedom)? Control { get; init; }

    /// <summary>The point.</summary>
    public string Id => Recorded.Data.PointId;
}
