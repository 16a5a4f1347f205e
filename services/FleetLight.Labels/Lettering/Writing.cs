using FleetLight.Labels.Drawing;

namespace FleetLight.Labels.Lettering;

/// <summary>Writes text with our own letters. One unit of their grid is a twelfth of the height of capitals.</summary>
public static class Writing
{
    // The pen is as wide as an eighth of the height of capitals: not so wide that a small e closes.
    private const double PenUnits = 1.5;

    /// <summary>Height that a line of text takes, as a multiple of the height of its capitals: tails and the accents of capitals included.</summary>
    public const double LineHeights = (Glyphs.Top + PenUnits) / Glyphs.CapHeight;

    /// <summary>The width of a text, pen included, mm.</summary>
    /// <param name="text">The text.</param>
    /// <param name="capMillimetres">Height of its capitals, mm.</param>
    public static double Width(string text, double capMillimetres) =>
        text.Length == 0 ? 0 : (text.Sum(c => Glyphs.Of(c).Width) + ((text.Length - 1) * Glyphs.Spacing) + PenUnits) * capMillimetres / Glyphs.CapHeight;

    /// <summary>Whether there is a letter for every character.</summary>
    public static bool Covers(string text) => text.All(Glyphs.Has);

    /// <summary>The text as lines.</summary>
    /// <param name="text">The text.</param>
    /// <param name="left">Its left edge, mm.</param>
    /// <param name="top">The upper edge of the space that the line of text takes, mm.</param>
    /// <param name="capMillimetres">Height of its capitals, mm.</param>
    public static IEnumerable<Line> Lines(string text, double left, double top, double capMillimetres)
    {
        var unit = capMillimetres / Glyphs.CapHeight;
        var x = left + (PenUnits / 2 * unit);
        foreach (var letter in text.Select(Glyphs.Of))
        {
            foreach (var stroke in letter.Strokes)
            {
                yield return new Line(
                    [.. stroke.Select(point => new Spot(x + (point.X * unit), top + ((Glyphs.Top + (PenUnits / 2) - point.Y) * unit)))], PenUnits * unit);
            }

            x += (letter.Width + Glyphs.Spacing) * unit;
        }
    }

    /// <summary>The text, cut with three points where it is wider than there is room.</summary>
    public static string Cut(string text, double capMillimetres, double mostMillimetres)
    {
        const string more = "...";
        if (Width(text, capMillimetres) <= mostMillimetres) return text;
        var length = text.Length;
        while (length > 0 && Width(text[..length].TrimEnd() + more, capMillimetres) > mostMillimetres) length--;
        return length == 0 ? "" : text[..length].TrimEnd() + more;
    }
}
