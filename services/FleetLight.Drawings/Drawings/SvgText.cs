using System.Globalization;

namespace FleetLight.PageParts.Drawings;

/// <summary>Writes numbers into SVG, whatever the language of the browser.</summary>
public static class SvgText
{
    /// <summary>A number with at most one decimal: a tenth of a pixel is as fine as a screen shows.</summary>
    public static string N(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>The corners of a polyline.</summary>
    public static string Points(IEnumerable<Point> points) => string.Join(' ', points.Select(point => $"{N(point.X)},{N(point.Y)}"));
}
