using System.Globalization;
using FleetLight.Contracts;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Field.Sites;
using FleetLight.PageParts.Wording;
using FleetLight.Record.Circuits;

namespace FleetLight.Field.Things;

/// <summary>A line of a thing's record.</summary>
/// <param name="Name">What it says something of.</param>
/// <param name="Says">What it says.</param>
/// <param name="IsOfPart">Whether it tells of one of many parts, a fitting.</param>
public sealed record ThingLine(string Name, string Says, bool IsOfPart = false);

/// <summary>What a thing's record says, line by line. What is not recorded is left out. Pure.</summary>
public static class ThingLines
{
    /// <summary>A circuit in half a line.</summary>
    public static string InBrief(CircuitDesigned design)
    {
        ArgumentNullException.ThrowIfNull(design);
        return $"{Count(design.Fittings.Length, "fitting")}, {PlainWords.InSentence(design.Drive)}";
    }

    /// <summary>A duct in half a line.</summary>
    public static string InBrief(DuctView duct)
    {
        ArgumentNullException.ThrowIfNull(duct);
        var inside = duct.CableIds.Count == 0 ? duct.StringInside ? "string inside" : "empty" : Count(duct.CableIds.Count, "cable");
        return duct.LengthMetres is { } length ? $"{Number(length)} m, {inside}" : inside;
    }

    /// <summary>A cable in half a line.</summary>
    public static string InBrief(CableView cable)
    {
        ArgumentNullException.ThrowIfNull(cable);
        var spare = cable.SpareCores > 0 ? $", {Count(cable.SpareCores, "spare core")}" : "";
        return cable.LengthMetres is { } length ? $"{Number(length)} m{spare}" : $"not pulled yet{spare}";
    }

    /// <summary>A box in half a line.</summary>
    public static string InBrief(BoxView box)
    {
        ArgumentNullException.ThrowIfNull(box);
        return (box.SealedAt is null ? "not sealed yet" : "sealed") + (box.Joints.Count > 0 ? $", {Count(box.Joints.Count, "joint")}" : "");
    }

    /// <summary>A duct.</summary>
    public static IReadOnlyList<ThingLine> Of(DuctView duct, ISiteState site)
    {
        ArgumentNullException.ThrowIfNull(duct);
        return Present(
        [
            ("For", Word(duct.Service)), ("Colour as seen", Word(duct.Colour)), ("Wall", Word(duct.Wall)), ("Bore", Figure(duct.BoreMillimetres, "mm")),
            ("Length", Figure(duct.LengthMetres, "m")), ("Depth of cover", Figure(duct.DepthMillimetres, "mm")), ("Bends together", Figure(duct.BendsDegrees, "°")),
            ("Near end", duct.NearEndAt), ("Far end", duct.FarEndAt), ("Labels", Labels(duct.Labels)),
            ("Plugged", duct.PluggedEnds.Count == 0 ? "no end" : string.Join(", ", duct.PluggedEnds.Select(end => PlainWords.InSentence(end)))),
            ("String", duct.StringInside ? "inside" : "none"), ("Filled", duct.FillPercent is { } fill ? $"{Number(fill)} % of the bore" : null),
            .. PlaceLines.Of(duct.Points, site),
        ]);
    }

    /// <summary>A cable.</summary>
    public static IReadOnlyList<ThingLine> Of(CableView cable, ISiteState site)
    {
        ArgumentNullException.ThrowIfNull(cable);
        return Present(
        [
            ("Length", Figure(cable.LengthMetres, "m")), ("Conductors", cable.AreaSquareMillimetres is { } area ? $"{Number(area)} mm², {Word(cable.ConductorClass)}" : null),
            ("Outside diameter", Figure(cable.OutsideDiameterMillimetres, "mm")), ("Labels", Labels(cable.Labels)),
            .. PlaceLines.Of(cable.Points, site),
            .. cable.Cores.Select(core => ($"Core {core.Core}", (string?)Core(core, site))),
        ]);
    }

    /// <summary>A box.</summary>
    public static IReadOnlyList<ThingLine> Of(BoxView box, ISiteState site)
    {
        ArgumentNullException.ThrowIfNull(box);
        return Present(
        [
            ("It lies", Word(box.Lie)), ("Cables enter", Word(box.Entry)), ("Held against pull", YesNo(box.StrainRelief)), ("Filled with gel", YesNo(box.GelFilled)),
            ("It can breathe", YesNo(box.Breathing)), ("Sealed", box.SealedAt is null ? "not yet" : "yes"),
            .. PlaceLines.Of(box.Placement, site),
            .. box.Joints.Select((joint, index) => ($"Joint {(index + 1).ToString(CultureInfo.InvariantCulture)}",
                (string?)$"{ThingNames.Of(site, ThingKind.Circuit, joint.CircuitId)}, {PlainWords.InSentence(joint.Arrangement)}, "
                + Count(joint.ConductorsPerConnector.Count, "connector"))),
        ]);
    }

    /// <summary>A circuit: how it is driven, and where its driver and its fittings are.</summary>
    /// <param name="design">Its design.</param>
    /// <param name="basis">What follows from its facts; none where that is not known.</param>
    /// <param name="site">The site.</param>
    public static IReadOnlyList<ThingLine> Of(CircuitDesigned design, CircuitBasis? basis, ISiteState site)
    {
        ArgumentNullException.ThrowIfNull(design);
        var driver = Place(basis?.DriverPlacement, basis?.DriverPosition, site);
        var fittings = basis?.Fittings.ToDictionary(fitting => fitting.FittingId, StringComparer.Ordinal);
        return
        [
            .. Present([
                ("Driven with", PlainWords.InSentence(design.Drive)),
                ("Driver", basis?.DriverAt is { } at ? With(at, driver) : driver),
            ]),
            .. design.Fittings.Select((fitting, index) => new ThingLine(
                $"Fitting {(index + 1).ToString(CultureInfo.InvariantCulture)}",
                With(ThingNames.Of(fitting), fittings?.GetValueOrDefault(fitting.FittingId) is { } known ? Place(known.Placement, known.Position, site) : null),
                IsOfPart: true)),
        ];
    }

    // Of a position that nobody said the way of, there is a position and nothing more to say.
    private static string? Place(PlacementView? placement, GeoPoint? position, ISiteState site) =>
        placement is not null ? PlaceLines.InOneLine(placement, site) : position is not null ? "on the map; how it was found was not said" : null;

    private static string With(string what, string? where) => where is null ? what : $"{what}; {where}";

    private static string Core(CoreView core, ISiteState site)
    {
        var use = core.CircuitId is { } circuit ? ThingNames.Of(site, ThingKind.Circuit, circuit) : PlainWords.InSentence(core.Use);
        var sleeves = string.Join(", ", core.Sleeves.Select(sleeve => $"{PlainWords.InSentence(sleeve.Value)} at the {PlainWords.InSentence(sleeve.Key)}"));
        return sleeves.Length == 0 ? use : $"{use}; sleeved {sleeves}";
    }

    private static ThingLine[] Present(params ReadOnlySpan<(string Name, string? Says)> lines)
    {
        var present = new List<ThingLine>(lines.Length);
        foreach (var (name, says) in lines)
            if (says is not null) present.Add(new ThingLine(name, says));
        return [.. present];
    }

    private static string? Labels(IReadOnlyDictionary<RunEnd, string>? labels) =>
        labels is null or { Count: 0 } ? null : string.Join("; ", labels.Select(label => $"{label.Value} at the {PlainWords.InSentence(label.Key)}"));

    private static string? Word<T>(T? word)
        where T : struct, Enum => word is { } said ? PlainWords.InSentence(said) : null;

    private static string? YesNo(bool? flag) => flag is { } said ? said ? "yes" : "no" : null;

    private static string? Figure(double? value, string unit) => value is { } said ? $"{Number(said)} {unit}" : null;

    private static string Count(int number, string one) => number == 1 ? $"1 {one}" : $"{number.ToString(CultureInfo.InvariantCulture)} {one}s";

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
