using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Positions;

/// <summary>Tapes as level distances.</summary>
internal static class Levelling
{
    /// <summary>The level distance of a tape, m: aslope, the root of the square of the tape less that of the rise.</summary>
    public static double LevelMetres(Tape tape) => tape.RiseMetres is { } rise
        ? Math.Sqrt(Math.Max(0, (tape.DistanceMetres * tape.DistanceMetres) - (rise * rise)))
        : tape.DistanceMetres;

    /// <summary>
    /// Standard deviation of the level distance, m. A steep tape's error grows by its slope; it is bounded where the tape is nearly plumb, which
    /// says next to nothing of the level distance.
    /// </summary>
    public static double DeviationMetres(Tape tape)
    {
        var level = LevelMetres(tape);
        var slope = Math.Min(20, tape.DistanceMetres / Math.Max(level, 1e-3));
        return Confidence.HalfWidthMetres(tape) / Confidence.Line * slope;
    }
}
