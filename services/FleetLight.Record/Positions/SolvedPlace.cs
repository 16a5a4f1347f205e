using FleetLight.Contracts;

namespace FleetLight.Record.Positions;

/// <summary>A place as worked out in its plane, before it is put into words.</summary>
internal sealed record SolvedPlace
{
    public required PlacementStanding Standing { get; init; }

    public PlaneFrame? Frame { get; init; }

    public PlanePoint? At { get; init; }

    public PlaneSpread? Spread { get; init; }

    public PlaneSpread? Relative { get; init; }

    /// <summary>The reference points that it was measured from, and how it follows them.</summary>
    public (IReadOnlyList<ReferencePoint> Points, double[,] Following)? Leans { get; init; }

    public TapedOutcome? Taped { get; init; }

    public IReadOnlyList<string> Notes { get; init; } = [];
}
