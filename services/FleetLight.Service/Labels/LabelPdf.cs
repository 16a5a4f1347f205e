using FleetLight.Labels.Drawing;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace FleetLight.Service.Labels;

/// <summary>Writes pages of labels as PDF. All of it is lines and rectangles, so no font is needed or carried along.</summary>
internal static class LabelPdf
{
    /// <summary>The document: each drawing a page of its own size.</summary>
    /// <param name="pages">The pages.</param>
    /// <param name="title">What it is.</param>
    /// <param name="at">When it was made.</param>
    public static byte[] Of(IReadOnlyList<LabelDrawing> pages, string title, DateTimeOffset at)
    {
        using var document = new PdfDocument();
        document.Info.Title = title;
        document.Info.CreationDate = at.UtcDateTime;
        document.Info.ModificationDate = at.UtcDateTime;
        foreach (var drawing in pages)
        {
            var page = document.AddPage();
            page.Width = XUnit.FromMillimeter(drawing.Width);
            page.Height = XUnit.FromMillimeter(drawing.Height);
            using var graphics = XGraphics.FromPdfPage(page);
            Draw(graphics, drawing);
        }

        using var bytes = new MemoryStream();
        document.Save(bytes);
        return bytes.ToArray();
    }

    private static void Draw(XGraphics graphics, LabelDrawing drawing)
    {
        foreach (var block in drawing.Blocks)
            graphics.DrawRectangle(XBrushes.Black, Points(block.X), Points(block.Y), Points(block.Width), Points(block.Height));
        foreach (var pen in drawing.Lines.GroupBy(line => line.Width))
        {
            var drawn = new XPen(XColors.Black, Points(pen.Key)) { LineCap = XLineCap.Round, LineJoin = XLineJoin.Round };
            foreach (var line in pen) graphics.DrawLines(drawn, [.. line.Points.Select(spot => new XPoint(Points(spot.X), Points(spot.Y)))]);
        }
    }

    // A PostScript point is 1/72 of an inch of 25.4 mm.
    private static double Points(double millimetres) => millimetres * 72 / 25.4;
}
