using PdfSharp.Drawing;

namespace FleetLight.Handover.Pdf;

/// <summary>Breaks text into lines that fit a width. Widths of words are remembered: the same few are measured again and again.</summary>
internal sealed class Lines(XGraphics measuring)
{
    private readonly Dictionary<(string Text, XFont Font), double> widths = [];

    /// <summary>The width of a text, pt.</summary>
    public double WidthOf(string text, XFont font)
    {
        if (!widths.TryGetValue((text, font), out var width)) widths[(text, font)] = width = measuring.WidthOf(text, font);
        return width;
    }

    /// <summary>The text in lines; a word that is wider than the width is cut where it has to be.</summary>
    public IReadOnlyList<string> Broken(string text, XFont font, double width)
    {
        var lines = new List<string>();
        var space = WidthOf(" ", font);
        foreach (var paragraph in Plain(text).Split('\n'))
        {
            var (line, used) = ("", 0.0);
            foreach (var word in paragraph.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(word => Fitting(word, font, width)))
            {
                var wide = WidthOf(word, font);
                if (line.Length > 0 && used + space + wide > width)
                {
                    lines.Add(line);
                    (line, used) = ("", 0);
                }

                (line, used) = line.Length == 0 ? (word, wide) : ($"{line} {word}", used + space + wide);
            }

            lines.Add(line);
        }

        return lines;
    }

    // Blanks that do not break stay within their word here and are drawn as blanks.
    private static string Plain(string text) => string.Concat(text.Select(c => c == '\t' ? ' ' : c).Where(c => c == '\n' || !char.IsControl(c)));

    private IEnumerable<string> Fitting(string word, XFont font, double width)
    {
        while (word.Length > 1 && WidthOf(word, font) > width)
        {
            var length = word.Length - 1;
            while (length > 1 && WidthOf(word[..length], font) > width) length--;
            // A break after a sign of its own reads better than one in the middle of a word.
            var sign = word.LastIndexOfAny(['-', '/', ':', '.', ','], length - 1);
            if (sign > length / 2) length = sign + 1;
            if (char.IsHighSurrogate(word[length - 1]) && length > 1) length--;
            yield return word[..length];
            word = word[length..];
        }

        yield return word;
    }
}
