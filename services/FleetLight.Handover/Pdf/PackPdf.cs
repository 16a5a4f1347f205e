using System.Text;
using FleetLight.Handover.Blocks;
using PdfSharp.Drawing;
using PdfSharp.Pdf;

namespace FleetLight.Handover.Pdf;

/// <summary>Sheets of paper.</summary>
public enum PackPaper
{
    /// <summary>ISO A4, 210 × 297 mm.</summary>
    A4,

    /// <summary>Letter, 215.9 × 279.4 mm.</summary>
    Letter,
}

/// <summary>Lays a document out as PDF: text that can be selected and searched, fonts within, numbered pages, a list of contents.</summary>
public static class PackPdf
{
    /// <summary>The file.</summary>
    /// <param name="document">What it says.</param>
    /// <param name="paper">The sheets.</param>
    /// <param name="at">When it is made.</param>
    public static byte[] Of(PackDocument document, PackPaper paper, DateTimeOffset at)
    {
        ArgumentNullException.ThrowIfNull(document);
        var (title, attachments) = (document.Title, document.Blocks.OfType<Attached>());
        document = PaperLetters.Of(document);
        // The pages of the contents are known once everything is laid out; their lines take the same room whatever they say.
        Dictionary<Heading, int> pages = new(ReferenceEqualityComparer.Instance);
        using (var trial = new PdfDocument())
        {
            using var first = new Sheets(trial, paper);
            new Layout(first, document, pages).Run();
        }

        using var pdf = new PdfDocument();
        pdf.Info.Title = title;
        pdf.Info.CreationDate = at.UtcDateTime;
        pdf.Info.ModificationDate = at.UtcDateTime;
        pdf.Language = "en";
        using (var sheets = new Sheets(pdf, paper))
        {
            new Layout(sheets, document, new(pages, ReferenceEqualityComparer.Instance)).Run();
            sheets.WriteFeet(document.Under);
            foreach (var (heading, number) in pages.OrderBy(part => part.Value)) pdf.Outlines.Add(heading.Text, pdf.Pages[number - 1], true);
        }

        foreach (var attached in attachments)
        {
            using var text = new MemoryStream(Encoding.UTF8.GetBytes(attached.Text));
            pdf.AddEmbeddedFile(attached.Name, text);
        }

        using var bytes = new MemoryStream();
        pdf.Save(bytes);
        return SameBytes.Of(bytes.ToArray(), at);
    }

    /// <summary>The size of a sheet, pt.</summary>
    internal static (double Width, double Height) SizeOf(PackPaper paper) =>
        paper == PackPaper.Letter ? (612, 792) : (XUnit.FromMillimeter(210).Point, XUnit.FromMillimeter(297).Point);
}
