using System.Globalization;
using System.Text;
using FleetLight.Handover.Pictures;
using FleetLight.PageParts.Drawings;
using static FleetLight.PageParts.Drawings.SvgText;

namespace FleetLight.Handover.Html;

/// <summary>Writes pictures as SVG within HTML, which names no namespace and so no address.</summary>
internal static class PictureSvg
{
    public static void Write(StringBuilder html, Picture picture)
    {
        html.Append(CultureInfo.InvariantCulture, $"<svg role=\"img\" aria-label=\"{HtmlText.Attribute($"{picture.Title}. {picture.Says}")}\" ");
        html.Append(CultureInfo.InvariantCulture, $"width=\"{N(picture.Width)}\" height=\"{N(picture.Height)}\" viewBox=\"0 0 {N(picture.Width)} {N(picture.Height)}\">\n");
        foreach (var shape in picture.Shapes) Write(html, shape);
        html.Append("</svg>\n");
    }

    private static void Write(StringBuilder html, Shape shape)
    {
        switch (shape)
        {
            case Way way:
                html.Append(CultureInfo.InvariantCulture, $"<{(way.Closed ? "polygon" : "polyline")} points=\"{SvgText.Points(way.Points)}\" fill=\"{Colour(way.Fill)}\"");
                html.Append(CultureInfo.InvariantCulture, $" stroke=\"{Colour(way.Line)}\" stroke-width=\"{N(way.Width)}\"");
                if (way.Dashes is { } dashes) html.Append(CultureInfo.InvariantCulture, $" stroke-dasharray=\"{string.Join(' ', dashes.Select(N))}\"");
                html.Append("/>\n");
                break;
            case Ring ring:
                html.Append(CultureInfo.InvariantCulture, $"<circle cx=\"{N(ring.Centre.X)}\" cy=\"{N(ring.Centre.Y)}\" r=\"{N(ring.Radius)}\" fill=\"{Colour(ring.Fill)}\"");
                html.Append(CultureInfo.InvariantCulture, $" stroke=\"{Colour(ring.Line)}\" stroke-width=\"{N(ring.Width)}\"/>\n");
                break;
            case Lettering text:
                html.Append(CultureInfo.InvariantCulture, $"<text x=\"{N(text.At.X)}\" y=\"{N(text.At.Y)}\" font-size=\"{N(text.Size)}\" fill=\"{Colour(text.Ink)}\"");
                if (text.Stand == Stand.Middle) html.Append(" text-anchor=\"middle\"");
                if (text.Bold) html.Append(" font-weight=\"bold\"");
                html.Append('>').Append(HtmlText.Escaped(text.Text)).Append("</text>\n");
                break;
        }
    }

    private static string Colour(Ink ink) => ink switch
    {
        Ink.None => "none",
        Ink.White => "#fff",
        Ink.Light => "#e6e6e6",
        Ink.Grey => "#595959",
        _ => "#000",
    };
}
