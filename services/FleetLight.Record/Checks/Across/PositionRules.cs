using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Across;

/// <summary>Tapes, offsets, and the things and reference points that are placed by them.</summary>
internal static class PositionRules
{
    public static void Check(Tape tape, CheckRun run)
    {
        if (tape.RiseMetres is { } rise && Math.Abs(rise) >= tape.DistanceMetres)
            run.Invalid("riseMetres", "The rise is not smaller than the tape.", "Give the distance along the tape, and the rise between its ends.");
    }

    public static void Check(BaselineOffset offset, CheckRun run)
    {
        if (offset.From == offset.To) run.Invalid("to", "The baseline ends where it begins.", "Name two different reference points.");
    }

    public static void Check(ReferencePointRecorded point, CheckRun run)
    {
        CheckWays(point.Tapes, point.Offset, point.Side, run);
        if (point.Tapes?.Any(tape => tape.From == point.PointId) == true)
            run.Invalid("tapes", "A tape runs from the reference point itself.", "Name other reference points.");
        if (point.Offset is { } offset && (offset.From == point.PointId || offset.To == point.PointId))
            run.Invalid("offset", "The reference point lies on its own baseline.", "Name other reference points.");
    }

    public static void Check(PlaceMeasured place, CheckRun run)
    {
        CheckWays(place.Tapes, place.Offset, place.Side, run);
        if (place.Position is null && place.Tapes is null && place.Offset is null)
            run.Invalid("position", "Nothing says where it is.", "Give position, tapes or offset.");
        if (place.Position is not null && place.Offset is not null)
            run.Invalid("position", "A position and an offset are two measurements.", "Record each as a fact of its own.");
        if (place.Kind == ThingKind.Site) run.Invalid("kind", "A site is not measured so.", "Give duct, cable, box or circuit.");
        if (place.FittingId is not null && place.Kind != ThingKind.Circuit)
            run.Invalid("fittingId", "fittingId is given, and the thing is no circuit.", "Give the kind circuit, or leave fittingId out.");
        CheckPoint(place, run);
    }

    private static void CheckPoint(PlaceMeasured place, CheckRun run)
    {
        var isRun = place.Kind is ThingKind.Duct or ThingKind.Cable;
        if (place.End is not null && !isRun) run.Invalid("end", "Only ducts and cables have ends.", "Leave end out.");
        if (place.ChainageMetres is not null && place.Kind != ThingKind.Duct)
            run.Invalid("chainageMetres", "Only ducts have points by chainage.", "Leave chainageMetres out.");
        if (place.End is not null && place.ChainageMetres is not null)
            run.Invalid("chainageMetres", "It is an end and a point between at once.", "Give end or chainageMetres.");
        if (isRun && place.End is null && place.ChainageMetres is null)
            run.Invalid("end", "Which point of it was measured is not said.", place.Kind == ThingKind.Duct ? "Give end or chainageMetres." : "Give end.");
    }

    private static void CheckWays(Tape[]? tapes, BaselineOffset? offset, SideOfLine? side, CheckRun run)
    {
        if (tapes is not null && offset is not null)
            run.Invalid("offset", "Tapes and an offset are two measurements.", "Record each as a fact of its own.");
        if (side is not null && tapes is not { Length: > 1 })
            run.Invalid("side", "A side is of the line between the first two tapes' reference points.", "Give two tapes, or leave side out.");
        Repeats.Check(tapes ?? [], tape => tape.From, "tapes", "from", "Tape from each reference point once.", run);
    }
}
