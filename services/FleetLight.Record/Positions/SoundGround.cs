using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Positions;

/// <summary>
/// What of a measurement can be worked with. Facts are checked before they are taken; what was kept by some other way must not stop a fold.
/// </summary>
internal static class SoundGround
{
    /// <summary>The position where it lies on earth.</summary>
    public static GeoPoint? Sound(GeoPoint? position) =>
        position?.Coordinates is { Length: >= 2 } at && at[0] is >= -180 and <= 180 && at[1] is >= -90 and <= 90 ? position : null;

    /// <summary>Tapes from different points, each once; none where there are fewer than asked for.</summary>
    public static Tape[]? Sound(Tape[]? tapes, int least, string? besides = null)
    {
        if (tapes is null) return null;
        Tape[] sound = [.. tapes.Where(tape => tape?.From is { } from && from != besides).DistinctBy(tape => tape.From, StringComparer.Ordinal)];
        return sound.Length < least ? null : sound;
    }

    /// <summary>The offset where its baseline has two ends.</summary>
    public static BaselineOffset? Sound(BaselineOffset? offset, string? besides = null) =>
        offset is not null && offset.From != offset.To && offset.From != besides && offset.To != besides ? offset : null;

    /// <summary>The fact with what can be worked with.</summary>
    public static ReferencePointRecorded Sound(ReferencePointRecorded point) => point with
    {
        Position = Sound(point.Position),
        Tapes = Sound(point.Tapes, 1, point.PointId),
        Offset = Sound(point.Offset, point.PointId),
    };
}
