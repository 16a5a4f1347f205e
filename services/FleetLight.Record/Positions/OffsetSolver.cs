using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Positions;

/// <summary>A place by its offset from a baseline. Pure.</summary>
internal static class OffsetSolver
{
    // A baseline shorter than this has no direction to speak of, m; common practice, no source.
    private const double LeastBaselineMetres = 0.2;

    /// <summary>The place; none where the baseline is too short.</summary>
    public static PlanePoint? At(PlanePoint from, PlanePoint to, BaselineOffset offset)
    {
        var length = from.To(to);
        if (length < LeastBaselineMetres) return null;
        var (ux, uy) = ((to.X - from.X) / length, (to.Y - from.Y) / length);
        var left = Left(offset);
        return new(from.X + (offset.AlongMetres * ux) - (left * uy), from.Y + (offset.AlongMetres * uy) + (left * ux));
    }

    /// <summary>Both distances as measured, of points by their numbers.</summary>
    public static IReadOnlyList<Observation> Measured(int point, int from, int to, BaselineOffset offset) =>
    [
        new OffsetObservation(point, from, to, true, offset.AlongMetres, Confidence.HalfWidthMetres(offset, offset.AlongMetres) / Confidence.Line),
        new OffsetObservation(point, from, to, false, Left(offset), Confidence.HalfWidthMetres(offset, offset.SquareMetres) / Confidence.Line),
    ];

    private static double Left(BaselineOffset offset) => offset.Side == SideOfLine.Left ? offset.SquareMetres : -offset.SquareMetres;
}
