using System.Text.Json;
using FleetLight.Contracts;
using FleetLight.Contracts.Views;

namespace FleetLight.OpenData.Features;

/// <summary>Every collection.</summary>
public static class FeatureKinds
{
    private static readonly FeatureProperty Id = Text("id", "Id of the thing, minted by whoever recorded it first.");
    private static readonly FeatureProperty SiteId = Text("siteId", "The site that it is on.");
    private static readonly FeatureProperty CircuitId = Text("circuitId", "The circuit that it belongs to.");
    private static readonly FeatureProperty Phase = Words<CircuitPhase>("phase", "How far the circuit has come.");
    private static readonly FeatureProperty Verdict = Words<CircuitVerdict>("verdict", "Whether the circuit reads as it should: advice, never a certificate.");
    private static readonly FeatureProperty Height = Number("heightMetres", "Height above the ellipsoid, where it was recorded.", "m");

    /// <summary>Ducts.</summary>
    public static FeatureKind Ducts { get; } = new(
        "ducts", "Ducts", "Ducts as laid, a line from the near to the far end as its route was recorded. No shape where no route was recorded.",
        ShapeKind.Line, null, false,
        [
            Id, SiteId,
            Text("label", "Label at its near end, or at whichever end has one."),
            Words<DuctService>("service", "What it is for, as recorded."),
            Words<DuctColour>("colour", "Its colour as seen: never infer from it what is inside."),
            Words<DuctWall>("wall", "Kind of wall."),
            Number("boreMillimetres", "Inside diameter.", "mm"),
            Number("lengthMetres", "Length as recorded, not that of the line.", "m"),
            Number("depthMillimetres", "Cover as recorded.", "mm"),
            Number("bendsDegrees", "Bends altogether.", "deg"),
            Text("nearEndAt", "Where its near end is, in words."),
            Text("farEndAt", "Where its far end is, in words."),
            Text("pluggedEnds", "Ends that are closed, with a space between them."),
            Flag("stringInside", "Whether a draw string was left in it."),
            Text("cableIds", "The cables in it, with a space between them."),
            Number("fillPercent", "How full it is.", "%"),
            Number("thickestMoreMillimetres", "The thickest cable that still goes in.", "mm"),
        ]);

    /// <summary>Cables.</summary>
    public static FeatureKind Cables { get; } = new(
        "cables", "Cables",
        "Cables as pulled. A cable's own route is not recorded: its shape is that of the ducts in which it lies, as far as their routes were recorded; none otherwise.",
        ShapeKind.Lines, "pulledAt", false,
        [
            Id, SiteId,
            Text("label", "Label at its near end, or at whichever end has one."),
            Number("lengthMetres", "Length as recorded.", "m"),
            Number("areaSquareMillimetres", "Cross-section of a conductor.", "mm2"),
            Words<ConductorClass>("conductorClass", "Class of its conductors (IEC 60228)."),
            Number("outsideDiameterMillimetres", "Outside diameter.", "mm"),
            Text("ductIds", "The ducts in which it lies, with a space between them."),
            Whole("ductsWithRoute", "How many of these have a recorded route and so are in its shape."),
            Text("circuitIds", "The circuits that its cores serve, with a space between them."),
            Whole("cores", "Cores."),
            Whole("spareCores", "Spare cores."),
            Time("pulledAt", "When it was pulled."),
        ]);

    /// <summary>Boxes.</summary>
    public static FeatureKind Boxes { get; } = new(
        "boxes", "Boxes", "Boxes where their position was recorded. No shape otherwise.", ShapeKind.Point, "sealedAt", false,
        [
            Id, SiteId, Height,
            Text("label", "Its label."),
            Words<BoxLie>("lie", "How it lies."),
            Words<BoxEntry>("entry", "How cables enter."),
            Flag("strainRelief", "Whether cables are relieved of strain."),
            Flag("gelFilled", "Whether it is filled with gel."),
            Flag("breathing", "Whether it breathes."),
            Flag("isSealed", "Whether it is closed, and no joint was made in it since."),
            Time("sealedAt", "When it was last closed."),
            Whole("joints", "Joints in it."),
            Text("circuitIds", "The circuits of its joints, with a space between them."),
        ]);

    /// <summary>Fittings.</summary>
    public static FeatureKind Fittings { get; } = new(
        "fittings", "Fittings", "Fittings where their position was recorded. No shape otherwise.", ShapeKind.Point, null, false,
        [
            Text("id", "Id of the fitting within its circuit."),
            SiteId, CircuitId, Height,
            Whole("place", "Which fitting of its circuit it is, from 1."),
            Number("ratedWatts", "Rated power as recorded, or as designed.", "W"),
            Number("designedWatts", "Rated power as designed, where another is fitted.", "W"),
            Flag("isFixed", "Whether it was fixed in its place."),
            Phase, Verdict,
        ]);

    /// <summary>Drivers.</summary>
    public static FeatureKind Drivers { get; } = new(
        "drivers", "Drivers", "The driver of each circuit, where its position was recorded. No shape otherwise.", ShapeKind.Point, null, false,
        [
            CircuitId, SiteId, Height,
            Text("name", "What people call the circuit."),
            Text("at", "Where the driver is, in words."),
            Words<DriveKind>("drive", "How it drives the circuit."),
            Phase, Verdict,
        ]);

    /// <summary>Circuits.</summary>
    public static FeatureKind Circuits { get; } = new(
        "circuits", "Circuits", "Circuits, each with the recorded positions of its driver and fittings as points. No shape where none was recorded.",
        ShapeKind.Points, "lastReadAt", true,
        [
            Id, SiteId,
            Text("name", "What people call it."),
            Words<DriveKind>("drive", "How it is driven."),
            Phase, Verdict,
            Whole("fittings", "Fittings."),
            Whole("positionsKnown", "How many of driver and fittings have a recorded position and so are in its shape."),
            Number("expectedVolts", "What it should read at the driver.", "V"),
            Number("lastVolts", "The newest voltage read at the driver.", "V"),
            Time("lastReadAt", "When it was last read."),
            Text("rules", "Rules that find something on it, with a space between them."),
            Text("cableIds", "Its cables, with a space between them."),
            Text("boxIds", "Its boxes, with a space between them."),
        ]);

    /// <summary>Readings.</summary>
    public static FeatureKind Readings { get; } = new(
        "readings", "Readings",
        "Readings that count, each at the recorded position of the driver or fitting that it was taken at, or of a box on the circuit's site. No shape otherwise.",
        ShapeKind.Point, "happenedAt", true,
        [
            CircuitId,
            Text("siteId", "The site that the reading names."),
            Words<ReadingPlaceKind>("place", "At what kind of thing it was taken."),
            Text("placeId", "The box or fitting; none at the driver."),
            Words<ReadingQuantity>("quantity", "What was measured."),
            Number("volts", "The value of a voltage.", "V"),
            Number("milliamps", "The value of a current.", "mA"),
            Number("ohms", "The value of a resistance.", "ohm"),
            Time("happenedAt", "When it was taken, by the corrected clock."),
            Time("recordedAt", "When it was known here."),
            Text("source", "Who took it."),
            Text("meterName", "Which meter, where it was said."),
        ]);

    /// <summary>Open alerts.</summary>
    public static FeatureKind Alerts { get; } = new(
        "alerts", "Open alerts",
        "Alerts that are not cleared, at the position of what they are about: of a duct the middle of its route, of a circuit its driver, else the site's "
        + "position, as 'positionOf' says. No shape where none of these was recorded.",
        ShapeKind.Point, "raisedAt", true,
        [
            Text("rule", "The rule that found it."),
            Words<AlertSeverity>("severity", "How much it matters."),
            Text("standing", "Whether somebody has taken note of it.", ["raised", "acknowledged"]),
            SiteId,
            Words<ThingKind>("subjectKind", "What kind of thing it is about."),
            Text("subjectId", "Which."),
            Text("circuitIds", "The circuits that it touches, with a space between them."),
            Text("reason", "Why it was raised."),
            Text("remedy", "What to do."),
            Time("raisedAt", "When it was last raised."),
            Whole("timesRaised", "How often it was raised."),
            Text("positionOf", "Whose position it is shown at; none where it has none.", ["duct", "box", "circuit", "site"]),
        ]);

    /// <summary>All of them, in the order in which they are listed.</summary>
    public static IReadOnlyList<FeatureKind> All { get; } = [Ducts, Cables, Boxes, Fittings, Drivers, Circuits, Readings, Alerts];

    /// <summary>The collection of that id; none where there is none.</summary>
    public static FeatureKind? Find(string id) => All.FirstOrDefault(kind => kind.Id == id);

    /// <summary>A member of an enumeration as it is written.</summary>
    public static string Word<T>(T value) where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(value.ToString());

    private static FeatureProperty Text(string name, string says, IReadOnlyList<string>? words = null) => new(name, ValueKind.Text, says, null, words);

    private static FeatureProperty Words<T>(string name, string says) where T : struct, Enum =>
        new(name, ValueKind.Text, says, null, [.. Enum.GetValues<T>().Select(Word)]);

    private static FeatureProperty Number(string name, string says, string unit) => new(name, ValueKind.Number, says, unit);

    private static FeatureProperty Whole(string name, string says) => new(name, ValueKind.Whole, says, "1");

    private static FeatureProperty Flag(string name, string says) => new(name, ValueKind.Flag, says);

    private static FeatureProperty Time(string name, string says) => new(name, ValueKind.Time, says);
}
