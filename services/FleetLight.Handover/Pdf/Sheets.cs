using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace FleetLight.Handover.Pdf;

/// <summary>The pages of a document: where on them the next piece goes, and what stands at their foot. Lengths are points, 1/72 of an inch.</summary>
internal sealed class Sheets : IDisposable
{
    /// <summary>Free edge left and right, pt.</summary>
    public const double Edge = 42;

    private const double Top = 40;
    private const double Foot = 46;

    private readonly PdfDocument document;
    private readonly double width;
    private readonly double height;
    private readonly List<XGraphics> pages = [];

    public Sheets(PdfDocument document, PackPaper paper)
    {
        this.document = document;
        (width, height) = PackPdf.SizeOf(paper);
        Next();
        Lines = new Lines(On);
    }

    /// <summary>The page that is written on.</summary>
    public XGraphics On => pages[^1];

    /// <summary>Its number, from 1.</summary>
    public int Number => pages.Count;

    /// <summary>Breaks text.</summary>
    public Lines Lines { get; }

    /// <summary>Where the next piece begins, from above.</summary>
    public double Y { get; set; }

    /// <summary>Width between the edges.</summary>
    public double Width => width - (2 * Edge);

    /// <summary>Height of a whole page between its edges.</summary>
    public double Height => height - Top - Foot;

    /// <summary>What is left of this page.</summary>
    public double Left => height - Foot - Y;

    /// <summary>Whether nothing stands on this page yet.</summary>
    public bool IsFresh => Y <= Top;

    /// <summary>Begins a page.</summary>
    public void Next()
    {
        var page = document.AddPage();
        (page.Width, page.Height) = (XUnit.FromPoint(width), XUnit.FromPoint(height));
        pages.Add(XGraphics.FromPdfPage(page));
        Y = Top;
    }

    /// <summary>Begins a page where so much does not fit on this one any more.</summary>
    public void Need(double room)
    {
        if (room > Left && !IsFresh) Next();
    }

    /// <summary>Writes the foot of every page.</summary>
    /// <param name="under">What it says beside the number.</param>
    public void WriteFeet(string under)
    {
        var font = PackFonts.Of(7.5);
        for (var i = 0; i < pages.Count; i++)
        {
            var number = $"Page {i + 1} of {pages.Count}";
            var y = height - Foot + 22;
            pages[i].DrawLine(new XPen(XColors.Gray, 0.5), Edge, y - 10, width - Edge, y - 10);
            pages[i].Write(Cut(under, font, Width - 90), font, Edge, y);
            pages[i].Write(number, font, width - Edge - Lines.WidthOf(number, font), y);
        }
    }

    private string Cut(string text, XFont font, double most)
    {
        if (Lines.WidthOf(text, font) <= most) return text;
        var length = text.Length;
        while (length > 0 && Lines.WidthOf(text[..length] + "…", font) > most) length--;
        return text[..length] + "…";
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        foreach (var page in pages) page.Dispose();
    }
}
