using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Tests.Works;

/// <summary>Reference points and measured places by chance: tapes from points that are known, unknown, or measured from one another in a ring.</summary>
internal static class Places
{
    private static readonly string[] Points = ["p0", "p1", "p2"];

    public static ReferencePointRecorded Point(Dice dice)
    {
        var id = Histories.Id(dice, "p");
        return new ReferencePointRecorded
        {
            SiteId = Histories.Site(dice),
            PointId = id,
            Name = $"corner {dice.Below(9)}",
            Position = dice.Below(3) == 0 ? Position(dice) : null,
            Local = dice.Below(4) == 0 ? new() { XMetres = dice.Below(20), YMetres = dice.Below(20) } : null,
            Tapes = Tapes(dice, 1, id) is { Length: > 0 } tapes && dice.Is() ? tapes : null,
        };
    }

    public static PlaceMeasured Place(Dice dice)
    {
        var (kind, prefix) = dice.Of([(ThingKind.Duct, "d"), (ThingKind.Cable, "c"), (ThingKind.Box, "b"), (ThingKind.Circuit, "k")]);
        var (byTapes, byOffset) = (dice.Is(), dice.Is());
        return new PlaceMeasured
        {
            SiteId = Histories.Site(dice),
            Kind = kind,
            ThingId = Histories.Id(dice, prefix),
            FittingId = kind == ThingKind.Circuit && dice.Is() ? Histories.Id(dice, "F") : null,
            End = kind is ThingKind.Duct or ThingKind.Cable ? dice.Word<RunEnd>() : null,
            Tapes = byTapes ? Tapes(dice, 2, null) : null,
            Side = byTapes ? dice.Maybe<SideOfLine>() : null,
            Offset = !byTapes && byOffset ? Offset(dice) : null,
            Position = byTapes ? dice.Is() ? Position(dice) : null : byOffset ? null : Position(dice),
        };
    }

    private static BaselineOffset Offset(Dice dice) =>
        new() { From = "p0", To = dice.Of(["p1", "p2"]), AlongMetres = dice.Below(9), SquareMetres = dice.Below(5), Side = dice.Word<SideOfLine>() };

    private static Tape[] Tapes(Dice dice, int least, string? besides)
    {
        string[] points = [.. Points.Where(id => id != besides)];
        return [.. points.Take(Math.Max(least, 1 + dice.Below(points.Length))).Select(id => new Tape { From = id, DistanceMetres = 1 + dice.Below(25) })];
    }

    private static GeoPoint Position(Dice dice) => new()
    {
        Type = "Point",
        Coordinates = [-30 + (dice.Below(20) * 1e-5), 42 + (dice.Below(20) * 1e-5)],
        AccuracyMetres = dice.Is() ? dice.Of([0.05, 1, 8]) : null,
        Method = dice.Maybe<PositionMethod>(),
    };
}
