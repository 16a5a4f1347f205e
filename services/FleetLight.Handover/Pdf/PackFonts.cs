using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace FleetLight.Handover.Pdf;

/// <summary>The two fonts that go along inside the document, so that it reads the same everywhere. They come with this library (OFL 1.1).</summary>
internal sealed class PackFonts : IFontResolver
{
    private const string Regular = "Regular";
    private const string Bold = "Bold";
    private const string Family = "Liberation Sans";

    private static readonly Lock Gate = new();

    /// <summary>A font.</summary>
    /// <param name="points">Its height, pt.</param>
    /// <param name="bold">Whether it is bold.</param>
    public static XFont Of(double points, bool bold = false)
    {
        // The library knows one resolver for the whole program.
        lock (Gate) GlobalFontSettings.FontResolver ??= new PackFonts();
        return new XFont(Family, points, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
    }

    /// <inheritdoc/>
    public byte[]? GetFont(string faceName)
    {
        using var file = typeof(PackFonts).Assembly.GetManifestResourceStream($"fonts/LiberationSans-{faceName}.ttf");
        if (file is null) return null;
        var bytes = new byte[file.Length];
        file.ReadExactly(bytes);
        return bytes;
    }

    /// <inheritdoc/>
    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) => new(isBold ? Bold : Regular);
}
