using FleetLight.Contracts.Facts;

namespace FleetLight.Contracts.Views;

/// <summary>An error ellipse: it holds the true place with a probability of 95 %.</summary>
public sealed record ErrorEllipseView
{
    /// <summary>Half of the longer axis, m.</summary>
    public required double SemiMajorMetres { get; init; }

    /// <summary>Half of the shorter axis, m.</summary>
    public required double SemiMinorMetres { get; init; }

    /// <summary>Bearing of the longer axis, degrees from north (in a local plane from upwards) clockwise, 0 up to 180.</summary>
    public required double BearingDegrees { get; init; }
}

/// <summary>A place in a plane of the site's own.</summary>
public sealed record LocalPlace
{
    /// <summary>To the right, m.</summary>
    public required double XMetres { get; init; }

    /// <summary>Upwards, m.</summary>
    public required double YMetres { get; init; }
}

/// <summary>One of the places that a measurement leaves open.</summary>
public sealed record PlaceCandidate
{
    /// <summary>Where it would be.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>The same in the site's own plane, where the reference points are known in that only.</summary>
    public LocalPlace? Local { get; init; }

    /// <summary>The side of the line between the first two tapes' reference points, seen from the first.</summary>
    public required SideOfLine Side { get; init; }
}

/// <summary>A tape as it fits.</summary>
public sealed record TapeView
{
    /// <summary>The reference point.</summary>
    public required string From { get; init; }

    /// <summary>What it is called.</summary>
    public string? Name { get; init; }

    /// <summary>What the tape read, m.</summary>
    public required double DistanceMetres { get; init; }

    /// <summary>With 95 % the true distance is no further off than this, m, as recorded or as assumed.</summary>
    public required double AccuracyMetres { get; init; }

    /// <summary>The distance to the place as worked out, less the taped one, m, both reduced to the level.</summary>
    public double? ResidualMetres { get; init; }

    /// <summary>Whether it is the one tape that does not fit the others. It was used all the same: measure it again.</summary>
    public required bool Suspect { get; init; }
}

/// <summary>A distance by which a thing is found with a tape from a reference point.</summary>
public sealed record FindByView
{
    /// <summary>The reference point.</summary>
    public required string From { get; init; }

    /// <summary>What it is called.</summary>
    public string? Name { get; init; }

    /// <summary>Level distance from the reference point to the thing, m, as worked out.</summary>
    public required double DistanceMetres { get; init; }

    /// <summary>With 95 % the true distance is no further off than this, m.</summary>
    public required double AccuracyMetres { get; init; }
}

/// <summary>A measured place: what came of it, how well it is known, and the fact behind it. Advice: locate before digging.</summary>
public sealed record PlacementView
{
    /// <summary>The fact, <c>source#id</c>.</summary>
    public required string Fact { get; init; }

    /// <summary>When it was measured.</summary>
    public required DateTimeOffset MeasuredAt { get; init; }

    /// <summary>How; absent where nobody said.</summary>
    public PositionMethod? Method { get; init; }

    /// <summary>What came of it.</summary>
    public required PlacementStanding Standing { get; init; }

    /// <summary>Where it is.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>Where it is in the plane of the site's own, where its reference points are known in that only.</summary>
    public LocalPlace? Local { get; init; }

    /// <summary>The longer half axis of the error ellipse, m: with at least 95 % the true place is no further off.</summary>
    public double? AccuracyMetres { get; init; }

    /// <summary>The error ellipse (95 %), with what is not known of the reference points.</summary>
    public ErrorEllipseView? Ellipse { get; init; }

    /// <summary>
    /// The error ellipse (95 %) beside the reference points that it was measured from, taken as exact: this is how well a tape from the same
    /// points finds it again.
    /// </summary>
    public ErrorEllipseView? RelativeEllipse { get; init; }

    /// <summary>Its tapes, with how they fit.</summary>
    public IReadOnlyList<TapeView>? Tapes { get; init; }

    /// <summary>Its offset from a baseline, as recorded.</summary>
    public BaselineOffset? Offset { get; init; }

    /// <summary>Both places that fit, where nothing tells which is meant.</summary>
    public IReadOnlyList<PlaceCandidate>? Candidates { get; init; }

    /// <summary>Sum of the squares of the weighted residuals, no unit, where there are more tapes than needed.</summary>
    public double? ChiSquare { get; init; }

    /// <summary>Number of measurements beyond those needed; absent where there are none.</summary>
    public int? DegreesOfFreedom { get; init; }

    /// <summary>
    /// Whether the measurements fit one another: false where a sound set would show such residuals once in a thousand times at most (chi-square
    /// test). Absent where there is nothing to test.
    /// </summary>
    public bool? Fits { get; init; }

    /// <summary>
    /// The two nearest reference points with the distances from them, as worked out; only where the distance is known within 1 m. A recorded
    /// place is advice: locate services before the ground is opened.
    /// </summary>
    public IReadOnlyList<FindByView>? FindBy { get; init; }

    /// <summary>What is to be said of it, in plain words.</summary>
    public IReadOnlyList<string>? Notes { get; init; }
}

/// <summary>A reference point of a site.</summary>
public sealed record ReferencePointView
{
    /// <summary>The point.</summary>
    public required string PointId { get; init; }

    /// <summary>What it is.</summary>
    public required string Name { get; init; }

    /// <summary>More of it.</summary>
    public string? Description { get; init; }

    /// <summary>Where it is, after the adjustment of all reference points that are taped with one another.</summary>
    public required PlacementView Placement { get; init; }
}

/// <summary>A measured point of a duct or cable.</summary>
public sealed record RunPointView
{
    /// <summary>The end.</summary>
    public RunEnd? End { get; init; }

    /// <summary>Distance along the duct from its near end, m, where it is no end.</summary>
    public double? ChainageMetres { get; init; }

    /// <summary>Where it is: the best of its measured places.</summary>
    public required PlacementView Placement { get; init; }

    /// <summary>All its measured places, oldest first.</summary>
    public IReadOnlyList<PlacementView>? Placements { get; init; }
}
