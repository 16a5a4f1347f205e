namespace FleetLight.Contracts.Facts;

/// <summary>A distance taped from a reference point.</summary>
public sealed record Tape
{
    /// <summary>The reference point that it was taped from.</summary>
    [ThingId]
    public required string From { get; init; }

    /// <summary>What the tape read, m, 0.01 to 500.</summary>
    [Quantity("m", 0.01, 500)]
    public required double DistanceMetres { get; init; }

    /// <summary>
    /// How well it is known: with 95 % the true distance is no further off than this, m, 0.001 to 50; 0.05 m and 0.3 % of the distance where
    /// absent (common practice, no source).
    /// </summary>
    [Quantity("m", 0.001, 50)]
    public double? AccuracyMetres { get; init; }

    /// <summary>
    /// By how much the thing lies higher than the reference point, m, −50 to 50, where the tape ran aslope; the distance is reduced to the
    /// level by it. Level where absent.
    /// </summary>
    [Quantity("m", -50, 50)]
    public double? RiseMetres { get; init; }
}

/// <summary>A place by an offset: so far along the baseline from one reference point towards another, and so far square from it.</summary>
public sealed record BaselineOffset
{
    /// <summary>The reference point where the baseline begins.</summary>
    [ThingId]
    public required string From { get; init; }

    /// <summary>The reference point to which it runs.</summary>
    [ThingId]
    public required string To { get; init; }

    /// <summary>How far along the baseline from its beginning, m, −500 to 500; less than 0 is behind the beginning.</summary>
    [Quantity("m", -500, 500)]
    public required double AlongMetres { get; init; }

    /// <summary>How far square from the baseline, m, 0 to 500.</summary>
    [Quantity("m", 0, 500)]
    public required double SquareMetres { get; init; }

    /// <summary>On which side of the baseline, seen from its beginning.</summary>
    public required SideOfLine Side { get; init; }

    /// <summary>
    /// How well both distances are known: with 95 % each is no further off than this, m, 0.001 to 50; 0.1 m and 1 % of each distance where
    /// absent (common practice, no source).
    /// </summary>
    [Quantity("m", 0.001, 50)]
    public double? AccuracyMetres { get; init; }
}

/// <summary>A place in a plane of the site's own, for instance that of a drawing: it is tied to no other coordinates.</summary>
public sealed record LocalPoint
{
    /// <summary>To the right, m, −100,000 to 100,000.</summary>
    [Quantity("m", -100000, 100000)]
    public required double XMetres { get; init; }

    /// <summary>Upwards on the plan, m, −100,000 to 100,000.</summary>
    [Quantity("m", -100000, 100000)]
    public required double YMetres { get; init; }

    /// <summary>Radius of the circle that holds the true place with 95 %, m, 0.001 to 1,000; 0.05 where absent.</summary>
    [Quantity("m", 0.001, 1000)]
    public double? AccuracyMetres { get; init; }
}

/// <summary>
/// A reference point of a site was recorded: something that stays where it is and can be found again, from which tapes run. The newest fact
/// of a point counts, and all that was measured from the point follows it.
/// </summary>
[FactType("fleetlight.reference-point.recorded.v1")]
public sealed record ReferencePointRecorded : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>The reference point.</summary>
    [ThingId]
    public required string PointId { get; init; }

    /// <summary>What it is, so that a stranger finds it: <c>north-west corner of the garage</c>.</summary>
    [Text(120)]
    public required string Name { get; init; }

    /// <summary>More of it, for instance at what height.</summary>
    [Text(500)]
    public string? Description { get; init; }

    /// <summary>Where it is. Without accuracy, 10 m are taken.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>Where it is in the plane of the site's own. It counts where no point that it is taped with has a position.</summary>
    public LocalPoint? Local { get; init; }

    /// <summary>Tapes from other reference points, 1 to 12. Even one ties two points together.</summary>
    [List(1, 12)]
    public Tape[]? Tapes { get; init; }

    /// <summary>Its offset from a baseline between two other reference points.</summary>
    public BaselineOffset? Offset { get; init; }

    /// <summary>The side on which it lies of the line from the first tape's reference point to the second's, seen from the first.</summary>
    public SideOfLine? Side { get; init; }
}

/// <summary>
/// The place of a thing was measured: by position, by tapes from reference points, or by an offset from a baseline. All measured places of a
/// thing are kept; the one that is known best counts.
/// </summary>
[FactType("fleetlight.place.measured.v1")]
public sealed record PlaceMeasured : IFact
{
    /// <inheritdoc/>
    [ThingId]
    public required string SiteId { get; init; }

    /// <summary>Kind of the thing: a box, a duct, a cable, or a circuit for its driver or one of its fittings.</summary>
    public required ThingKind Kind { get; init; }

    /// <summary>The thing.</summary>
    [ThingId]
    public required string ThingId { get; init; }

    /// <summary>The fitting of the circuit; its driver where absent.</summary>
    [ThingId]
    public string? FittingId { get; init; }

    /// <summary>The end of a duct or of a cable (a spare end, for instance) that was measured.</summary>
    public RunEnd? End { get; init; }

    /// <summary>The point of a duct that was measured, by its chainage: the distance along the duct from its near end, m, 0 to 2,000.</summary>
    [Quantity("m", 0, 2000)]
    public double? ChainageMetres { get; init; }

    /// <summary>Where it is. Beside tapes it only tells which of two places is meant.</summary>
    public GeoPoint? Position { get; init; }

    /// <summary>Tapes from reference points, 2 to 12.</summary>
    [List(2, 12)]
    public Tape[]? Tapes { get; init; }

    /// <summary>The offset from a baseline between two reference points.</summary>
    public BaselineOffset? Offset { get; init; }

    /// <summary>The side on which it lies of the line from the first tape's reference point to the second's, seen from the first.</summary>
    public SideOfLine? Side { get; init; }

    /// <summary>Anything that helps to find it.</summary>
    [Text(500)]
    public string? Note { get; init; }
}
