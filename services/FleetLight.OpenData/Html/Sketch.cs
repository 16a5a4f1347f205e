using System.Globalization;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Html;

/// <summary>Draws shapes to see how they lie to one another: north is up, and there is no map behind them.</summary>
public static class Sketch
{
    private const double Width = 640;
    private const double Height = 360;
    private const double Margin = 16;

    // Room for the bar below the shapes.
    private const double Foot = 24;

    // A degree of latitude: a 360th of the meridian's 40,008 km. Good to half a percent everywhere, as a sketch needs it.
    private const double MetresOfDegree = 111_133;

    /// <summary>The drawing; nothing where there is no shape.</summary>
    public static Markup Of(IReadOnlyList<Geometry> shapes)
    {
        if (shapes.Count == 0) return Markup.None;
        var reach = new Envelope();
        foreach (var shape in shapes) reach.ExpandToInclude(shape.EnvelopeInternal);
        // A degree of longitude is shorter the further north.
        var narrow = Math.Max(0.01, Math.Cos(double.DegreesToRadians(reach.Centre.Y)));
        var scale = Math.Min((Width - (2 * Margin)) / Math.Max(reach.Width * narrow, 1e-6), (Height - (2 * Margin) - Foot) / Math.Max(reach.Height, 1e-6));
        var pieces = shapes.SelectMany(Parts).Select(part => part is Point point
            ? Element("circle", ("cx", X(point.X)), ("cy", Y(point.Y)), ("r", "4"), ("fill", "#d8942b"), ("stroke", "#1d4d4f"))
            : Element("polyline", ("points", string.Join(' ', part.Coordinates.Select(at => $"{X(at.X)},{Y(at.Y)}"))),
                ("fill", "none"), ("stroke", "#0b5a57"), ("stroke-width", "2")));
        return Markup.With("svg", "viewBox", $"0 0 {Width} {Height}", [.. pieces, .. Bar(scale / MetresOfDegree)]);

        string X(double longitude) => Number((Width / 2) + ((longitude - reach.Centre.X) * narrow * scale));

        string Y(double latitude) => Number(((Height - Foot) / 2) - ((latitude - reach.Centre.Y) * scale));
    }

    // A bar of a round number of metres, at most a third of the width: 1, 2 or 5 times a power of ten.
    private static Markup[] Bar(double perMetre)
    {
        var most = Width / 3 / perMetre;
        var power = Math.Pow(10, Math.Floor(Math.Log10(most)));
        var metres = power * (most >= 5 * power ? 5 : most >= 2 * power ? 2 : 1);
        var says = metres >= 1000 ? $"{Number(metres / 1000)} km" : metres < 0.1 ? $"{Number(metres * 1000)} mm" : $"{Number(metres)} m";
        var (left, right, y) = (Number(Margin), Number(Margin + (metres * perMetre)), Number(Height - 8));
        return
        [
            Element("line", ("x1", left), ("y1", y), ("x2", right), ("y2", y), ("stroke", "#22282b"), ("stroke-width", "2")),
            Markup.Drawn($"<text x=\"{left}\" y=\"{Number(Height - 14)}\" font-size=\"12\" fill=\"#22282b\">{says}</text>"),
        ];
    }

    private static Markup Element(string name, params ReadOnlySpan<(string Name, string Value)> attributes)
    {
        // Names and values are our own: numbers and colours.
        var (first, rest) = (attributes[0], "");
        foreach (var (attribute, value) in attributes[1..]) rest += $" {attribute}=\"{value}\"";
        return Markup.Drawn($"<{name} {first.Name}=\"{first.Value}\"{rest}/>");
    }

    private static IEnumerable<Geometry> Parts(Geometry shape) => shape is GeometryCollection several ? several.Geometries.SelectMany(Parts) : [shape];

    private static string Number(double value) => Math.Round(value, 1).ToString(CultureInfo.InvariantCulture);
}
