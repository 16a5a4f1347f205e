using PdfSharp.Drawing;

namespace FleetLight.Handover.Pdf;

/// <summary>Measures and draws text, each letter by a font that has it.</summary>
internal static class Pen
{
    /// <summary>The width of a text, pt.</summary>
    public static double WidthOf(this XGraphics page, string text, XFont font) =>
        PackFonts.Pieces(text, font).Sum(piece => page.MeasureString(piece.Text, piece.Font).Width);

    /// <summary>Draws a text from left to right on its base line.</summary>
    /// <param name="page">Where.</param>
    /// <param name="text">What.</param>
    /// <param name="font">The font of the document.</param>
    /// <param name="x">Where it begins, pt.</param>
    /// <param name="y">Its base line, pt.</param>
    /// <param name="brush">Its ink, black where absent.</param>
    public static void Write(this XGraphics page, string text, XFont font, double x, double y, XBrush? brush = null)
    {
        foreach (var (piece, face) in PackFonts.Pieces(text, font))
        {
            page.DrawString(piece, face, brush ?? XBrushes.Black, x, y);
            if (piece.Length < text.Length) x += page.MeasureString(piece, face).Width;
        }
    }
}
