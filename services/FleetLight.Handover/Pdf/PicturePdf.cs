using FleetLight.Handover.Pictures;
using PdfSharp.Drawing;

namespace FleetLight.Handover.Pdf;

/// <summary>Draws pictures on a page.</summary>
internal static class PicturePdf
{
    /// <summary>A CSS pixel is a 96th of an inch, a point a 72nd.</summary>
    public const double PointsPerPixel = 0.75;

    public static void Draw(XGraphics page, Picture picture, double left, double top, double scale)
    {
        foreach (var shape in picture.Shapes)
        {
            switch (shape)
            {
                case Way way:
                    Draw(page, way, left, top, scale);
                    break;
                case Ring ring:
                    var size = 2 * ring.Radius * scale;
                    var (x, y) = (left + ((ring.Centre.X - ring.Radius) * scale), top + ((ring.Centre.Y - ring.Radius) * scale));
                    page.DrawEllipse(new XPen(Colour(ring.Line), ring.Width * scale), Brush(ring.Fill) ?? XBrushes.Transparent, x, y, size, size);
                    break;
                case Lettering text:
                    var font = PackFonts.Of(text.Size * scale, text.Bold);
                    var back = text.Stand == Stand.Middle ? page.WidthOf(text.Text, font) / 2 : 0;
                    page.Write(text.Text, font, left + (text.At.X * scale) - back, top + (text.At.Y * scale), Brush(text.Ink));
                    break;
            }
        }
    }

    private static void Draw(XGraphics page, Way way, double left, double top, double scale)
    {
        XPoint[] points = [.. way.Points.Select(at => new XPoint(left + (at.X * scale), top + (at.Y * scale)))];
        if (way.Closed && Brush(way.Fill) is { } brush) page.DrawPolygon(brush, points, XFillMode.Winding);
        if (way.Line == Ink.None) return;
        var pen = new XPen(Colour(way.Line), way.Width * scale) { LineJoin = XLineJoin.Round };
        // Dashes are counted in widths of the pen.
        if (way.Dashes is { } dashes) (pen.DashStyle, pen.DashPattern) = (XDashStyle.Custom, [.. dashes.Select(length => length / way.Width)]);
        if (way.Closed) page.DrawPolygon(pen, points);
        else page.DrawLines(pen, points);
    }

    private static XSolidBrush? Brush(Ink ink) => ink switch
    {
        Ink.None => null,
        Ink.White => XBrushes.White,
        _ => new XSolidBrush(Colour(ink)),
    };

    private static XColor Colour(Ink ink) => ink switch
    {
        Ink.White => XColors.White,
        Ink.Light => XColor.FromArgb(0xe6, 0xe6, 0xe6),
        Ink.Grey => XColor.FromArgb(0x59, 0x59, 0x59),
        _ => XColors.Black,
    };
}
