using System.Globalization;
using System.Text;

namespace FleetLight.Labels.Drawing;

/// <summary>Writes drawings as SVG in millimetres: printed at 100 % they have their true size.</summary>
public static class SvgText
{
    // A thousandth of a millimetre: far finer than any printer.
    private const string Form = "0.###";

    /// <summary>The drawing as an SVG document.</summary>
    /// <param name="drawing">The drawing.</param>
    /// <param name="title">What it shows.</param>
    /// <param name="says">What stands on it, for whoever cannot see it.</param>
    public static string Of(LabelDrawing drawing, string title, string says)
    {
        var svg = new StringBuilder();
        svg.Append(CultureInfo.InvariantCulture, $"<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{Mm(drawing.Width)}mm\" height=\"{Mm(drawing.Height)}mm\" ");
        svg.Append(CultureInfo.InvariantCulture, $"viewBox=\"0 0 {Mm(drawing.Width)} {Mm(drawing.Height)}\" role=\"img\">\n");
        svg.Append(CultureInfo.InvariantCulture, $"<title>{Escaped(title)}</title>\n<desc>{Escaped(says)}</desc>\n");
        svg.Append(CultureInfo.InvariantCulture, $"<rect width=\"{Mm(drawing.Width)}\" height=\"{Mm(drawing.Height)}\" fill=\"#fff\"/>\n");
        if (drawing.Blocks.Count > 0)
        {
            // One path: between rectangles of their own, browsers show hair lines.
            svg.Append("<path fill=\"#000\" shape-rendering=\"crispEdges\" d=\"");
            foreach (var block in drawing.Blocks)
                svg.Append(CultureInfo.InvariantCulture, $"M{Mm(block.X)} {Mm(block.Y)}h{Mm(block.Width)}v{Mm(block.Height)}h{Mm(-block.Width)}z");
            svg.Append("\"/>\n");
        }

        foreach (var pen in drawing.Lines.GroupBy(line => Mm(line.Width)))
        {
            svg.Append(CultureInfo.InvariantCulture, $"<path fill=\"none\" stroke=\"#000\" stroke-width=\"{pen.Key}\" stroke-linecap=\"round\" stroke-linejoin=\"round\" d=\"");
            foreach (var line in pen)
            {
                for (var i = 0; i < line.Points.Count; i++)
                    svg.Append(CultureInfo.InvariantCulture, $"{(i == 0 ? "M" : "L")}{Mm(line.Points[i].X)} {Mm(line.Points[i].Y)}");
            }

            svg.Append("\"/>\n");
        }

        return svg.Append("</svg>\n").ToString();
    }

    private static string Mm(double millimetres) => millimetres.ToString(Form, CultureInfo.InvariantCulture);

    // What XML 1.0 has no place for is left out.
    private static string Escaped(string text) => string.Concat(text.Where(c => c is '\t' or '\n' or '\r' || !char.IsControl(c)))
        .Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal);
}
