using System.Globalization;
using NetTopologySuite.Geometries;

namespace FleetLight.OpenData.Html;

/// <summary>Draws shapes to see how they lie to one another: north is up, and there is no map behind them.</summary>
public static class Sketch
{
    private const double Width = 640;
    private const double Height = 360;
    private const double Margin = 16;

    /// <summary>The drawing; nothing where there is no shape.</summary>
    public static Markup Of(IReadOnlyList<Geometry> shapes)
    {
        if (shapes.Count == 0) return Markup.None;
        var reach = new Envelope();
        foreach (var shape in shapes) reach.ExpandToInclude(shape.EnvelopeInternal);
        // A degree of longitude is shorter the further north.
        var narrow = Math.Max(0.01, Math.Cos(double.DegreesToRadians(reach.Centre.Y)));
        var scale = Math.Min((Width - (2 * Margin)) / Math.Max(reach.Width * narrow, 1e-6), (Height - (2 * Margin)) / Math.Max(reach.Height, 1e-6));
        var pieces = shapes.SelectMany(Parts).Select(part => part is Point point
            ? Element("circle", ("cx", X(point.X)), ("cy", Y(point.Y)), ("r", "4"), ("fill", "#d8942b"), ("stroke", "#1d4d4f"))
            : Element("polyline", ("points", string.Join(' ', part.Coordinates.Select(at => $"{X(at.X)},{Y(at.Y)}"))),
                ("fill", "none"), ("stroke", "#0b5a57"), ("stroke-width", "2")));
        return Markup.With("svg", "viewBox", $"0 0 {Width} {Height}", [.. pieces]);

        string X(double longitude) => Number((Width / 2) + ((longitude - reach.Centre.X) * narrow * scale));

        string Y(double latitude) => Number((Height / 2) - ((latitude - reach.Centre.Y) * scale));
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
