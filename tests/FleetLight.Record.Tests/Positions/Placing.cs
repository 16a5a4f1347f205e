using FleetLight.Contracts;
using FleetLight.Contracts.Facts;

namespace FleetLight.Record.Tests.Positions;

/// <summary>Facts of reference points and of places measured from them. The garage is 6 m wide; all of it is invented.</summary>
internal static class Placing
{
    public static ReferencePointRecorded Point(
        string id, GeoPoint? position = null, LocalPoint? local = null, Tape[]? tapes = null, BaselineOffset? offset = null, SideOfLine? side = null,
        string siteId = Facts.Site) =>
        new() { SiteId = siteId, PointId = id, Name = $"corner {id}", Position = position, Local = local, Tapes = tapes, Offset = offset, Side = side };

    public static PlaceMeasured Box(
        Tape[]? tapes = null, SideOfLine? side = null, GeoPoint? position = null, BaselineOffset? offset = null, string boxId = Facts.Box) =>
        new() { SiteId = Facts.Site, Kind = ThingKind.Box, ThingId = boxId, Tapes = tapes, Side = side, Position = position, Offset = offset };

    public static Tape Tape(string from, double metres, double? accuracy = 0.04, double? rise = null) =>
        new() { From = from, DistanceMetres = metres, AccuracyMetres = accuracy, RiseMetres = rise };

    public static LocalPoint At(double x, double y, double accuracy = 0.01) => new() { XMetres = x, YMetres = y, AccuracyMetres = accuracy };

    /// <summary>A position so many metres east and north of 30° W, 42° N, where a degree is 82,852 m by 111,071 m (WGS 84 radii of curvature).</summary>
    public static GeoPoint Degrees(double east, double north, double? accuracy = null, PositionMethod? method = null) => new()
    {
        Type = "Point",
        Coordinates = [-30 + (east / 82852.0), 42 + (north / 111071.0)],
        AccuracyMetres = accuracy,
        Method = method,
    };
}
