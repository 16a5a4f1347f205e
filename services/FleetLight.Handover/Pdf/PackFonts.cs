using System.Text;
using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace FleetLight.Handover.Pdf;

/// <summary>
/// The fonts that go along inside the document, so that it reads the same everywhere. They come with this library, each with its licence
/// beside it. A letter is drawn by the first of them that has it.
/// </summary>
internal sealed class PackFonts : IFontResolver
{
    private const string Regular = "LiberationSans-Regular";
    private const string Bold = "LiberationSans-Bold";

    // The first is the font of the document, the others lend it letters: more alphabets and signs, then Chinese and Japanese.
    private static readonly Face[] Faces =
        [new("Liberation Sans", Regular), new("DejaVu Sans", "DejaVuSans"), new("Droid Sans Fallback", "DroidSansFallbackFull")];

    private static readonly Lock Gate = new();

    /// <summary>A font of the document.</summary>
    /// <param name="points">Its height, pt.</param>
    /// <param name="bold">Whether it is bold.</param>
    public static XFont Of(double points, bool bold = false) => Made(Faces[0], points, bold);

    /// <summary>Whether any of the fonts has a letter.</summary>
    public static bool Have(Rune letter) => Array.Exists(Faces, face => face.Letters.Has(letter.Value));

    /// <summary>A text in pieces, each with the font that draws it.</summary>
    /// <param name="text">Letters that the fonts have.</param>
    /// <param name="font">The font of the document.</param>
    public static IEnumerable<(string Text, XFont Font)> Pieces(string text, XFont font)
    {
        var (from, at, last) = (0, 0, Faces[0]);
        foreach (var letter in text.EnumerateRunes())
        {
            // A blank goes with whatever stands before it.
            var face = letter.Value == ' ' ? last : FaceOf(letter);
            if (face != last && at > from) yield return (text[from..at], In(last, font));
            if (face != last) (from, last) = (at, face);
            at += letter.Utf16SequenceLength;
        }

        if (at > from) yield return (text[from..at], In(last, font));
    }

    /// <inheritdoc/>
    public byte[]? GetFont(string faceName) => Read(faceName);

    /// <inheritdoc/>
    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic)
    {
        var face = Array.Find(Faces, each => each.Family == familyName) ?? Faces[0];
        // Of the fonts that lend letters there is one weight; the library thickens its strokes.
        return face != Faces[0] ? new(face.File, isBold, false) : new(isBold ? Bold : Regular);
    }

    private static Face FaceOf(Rune letter) => letter.IsAscii ? Faces[0] : Array.Find(Faces, face => face.Letters.Has(letter.Value)) ?? Faces[0];

    private static XFont In(Face face, XFont font) => face == Faces[0] ? font : Made(face, font.Size, font.Bold);

    private static XFont Made(Face face, double points, bool bold)
    {
        // The library knows one resolver for the whole program.
        lock (Gate) GlobalFontSettings.FontResolver ??= new PackFonts();
        return new XFont(face.Family, points, bold ? XFontStyleEx.Bold : XFontStyleEx.Regular);
    }

    private static byte[]? Read(string name)
    {
        using var file = typeof(PackFonts).Assembly.GetManifestResourceStream($"fonts/{name}.ttf");
        if (file is null) return null;
        var bytes = new byte[file.Length];
        file.ReadExactly(bytes);
        return bytes;
    }

    private sealed record Face(string Family, string File)
    {
        // Read when the first letter asks for it: most documents need the first font only.
        private readonly Lazy<FontLetters> letters = new(() => new FontLetters(Read(File)!));

        public FontLetters Letters => letters.Value;
    }
}
