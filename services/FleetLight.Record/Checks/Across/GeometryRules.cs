using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Checks.Across;

/// <summary>Positions and routes as RFC 7946 asks.</summary>
internal static class GeometryRules
{
    private const string Remedy =
        "Give longitude −180 to 180, latitude −90 to 90 in degrees WGS 84, in this order, then the height in "
            + "metres or nothing.";

    public static void Check(GeoPoint point, CheckRun run)
    {
        CheckType(point.Type, "Point", run);
        CheckPosition(point.Coordinates, "coordinates", run);
    }

    public static void Check(GeoLine line, CheckRun run)
    {
        CheckType(line.Type, "LineString", run);
        for (var i = 0; i < line.Coordinates.Length; i++) CheckPosition(line.Coordinates[i], $"coordinates[{i}]", run);
    }

    private static void CheckType(string type, string asked, CheckRun run)
    {
        if (type != asked) run.Invalid(
            "type",
            $"type is not {asked}.",
            $"Give {asked} (RFC 7946, capital letters as shown).");
    }

    private static void CheckPosition(double[]? position, string member, CheckRun run)
    {
        if (position is null || position.Length is < 2 or > 3)
            run.Invalid(member, "A position has two or three numbers.", Remedy);
        else if (!Array.TrueForAll(position, double.IsFinite))
            run.Invalid(member, "A position holds something that is not a finite number.", Remedy);
        else if (position[0] is < -180 or > 180 || position[1] is < -90 or > 90)
            run.OutOfRange(member, "The position does not lie on Earth.", Remedy);
    }
}
