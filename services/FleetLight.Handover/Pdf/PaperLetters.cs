using System.Globalization;
using System.Text;
using FleetLight.Handover.Blocks;
using FleetLight.Handover.Pictures;

namespace FleetLight.Handover.Pdf;

/// <summary>
/// Puts a document into letters that paper can show: what the fonts do not have, and scripts whose letters join or run to the left, which
/// the PDF library would set wrongly, stands as a sign of its own, and a frame on the first page names the words that this meets.
/// </summary>
internal sealed class PaperLetters
{
    /// <summary>What stands for a letter that cannot be shown.</summary>
    public const char Unshown = '\ufffd';

    private const int MostWords = 12;
    private const int MostCodes = 12;
    private const int MostPlaces = 3;

    // Hebrew to Arabic Extended-A, Indic scripts, Thai, Lao, Tibetan, Myanmar; Khmer and Mongolian; presentation forms of Hebrew and Arabic.
    private static readonly (int From, int To)[] ToBeShaped = [(0x590, 0x8ff), (0x900, 0x109f), (0x1780, 0x18af), (0xfb1d, 0xfdff), (0xfe70, 0xfefe)];

    private readonly Dictionary<string, string> kept = new(StringComparer.Ordinal);
    private readonly List<(string Word, string Where)> words = [];
    private string part = "";

    private PaperLetters()
    {
    }

    /// <summary>The document as paper shows it.</summary>
    public static PackDocument Of(PackDocument document)
    {
        var letters = new PaperLetters();
        var (title, under) = (letters.Fit(document.Title), letters.Fit(document.Under));
        var blocks = document.Blocks.Select(letters.Fit).ToList();
        if (letters.words.Count > 0) blocks.Insert(Math.Max(0, blocks.FindIndex(block => block is Contents)), letters.Note());
        return new PackDocument(title, under, blocks);
    }

    private Framed Note()
    {
        var named = words.GroupBy(word => word.Word, StringComparer.Ordinal)
            .Select(same => (Word: same.Key, Wheres: same.Select(word => word.Where).Distinct().ToArray())).ToArray();
        return new Framed($"Letters that this paper cannot show stand as {Unshown}",
        [
            "The HTML form of this pack shows all letters as they were written. These words have such letters:",
            .. named.Take(MostWords).Select(each =>
                $"{Shown(each.Word)} ({Codes(each.Word)}), in {string.Join(", ", each.Wheres.Take(MostPlaces))}{(each.Wheres.Length > MostPlaces ? " and elsewhere" : "")}"),
            .. named.Length > MostWords ? (string[])[$"and {named.Length - MostWords} more."] : [],
        ]);
    }

    private static string Codes(string word)
    {
        var codes = word.EnumerateRunes().Where(letter => !CanShow(letter)).Select(letter => string.Create(CultureInfo.InvariantCulture, $"U+{letter.Value:X4}")).ToArray();
        return string.Join(' ', codes.Take(MostCodes)) + (codes.Length > MostCodes ? " …" : "");
    }

    private Block Fit(Block block)
    {
        switch (block)
        {
            case Heading heading:
                part = heading.Text;
                return heading with { Text = Fit(heading.Text) };
            case Prose prose:
                return prose with { Text = Fit(prose.Text) };
            case Points points:
                return new Points(Fit(points.Items));
            case Framed framed:
                return new Framed(Fit(framed.Title), Fit(framed.Items));
            case Pairs pairs:
                return new Pairs([.. pairs.Items.Select(item => (Fit(item.Name), Fit(item.Says)))]);
            case Grid grid:
                return grid with { Title = Fit(grid.Title), Rows = [.. grid.Rows.Select(Fit)], None = Fit(grid.None) };
            case Figure figure:
                return new Figure(figure.Picture with { Shapes = [.. figure.Picture.Shapes.Select(Fit)] }, Fit(figure.Caption));
            default:
                // What goes along as a file is not printed.
                return block;
        }
    }

    private Shape Fit(Shape shape) => shape is Lettering text ? text with { Text = Fit(text.Text) } : shape;

    private string[] Fit(IReadOnlyList<string> texts) => [.. texts.Select(Fit)];

    private string Fit(string text)
    {
        if (Ascii.IsValid(text)) return text;
        if (kept.TryGetValue(part + "\n" + text, out var before)) return before;
        var whole = Whole(text);
        var said = new List<string>();
        foreach (var word in whole.Split([' ', '\n', '\u00a0'], StringSplitOptions.RemoveEmptyEntries))
        {
            if (word.EnumerateRunes().All(CanShow))
            {
                Take();
                continue;
            }

            said.Add(word);
        }

        Take();
        return kept[part + "\n" + text] = Shown(whole);

        // Words beside one another are one name.
        void Take()
        {
            if (said.Count > 0) words.Add((string.Join(' ', said), part.Length == 0 ? "the title" : $"“{Shown(Whole(part))}”"));
            said.Clear();
        }
    }

    // Without signs that only steer how others are set; half a letter is none.
    private static string Whole(string text) =>
        string.Concat(text.EnumerateRunes().Where(letter => Rune.GetUnicodeCategory(letter) != UnicodeCategory.Format && letter.Value is not (>= 0xfe00 and <= 0xfe0f)));

    private static string Shown(string text) =>
        string.Concat(text.EnumerateRunes().Select(letter => CanShow(letter) ? letter.ToString() : Unshown.ToString()));

    private static bool CanShow(Rune letter) => letter.Value is >= ' ' and <= '~' || Rune.IsControl(letter) || letter.Value == '\u00a0'
        // Letters beyond the first 65,536 are drawn, but the library writes others beneath them, which whoever selects and searches would get.
        || (letter.IsBmp && letter.Value != Unshown && !Array.Exists(ToBeShaped, each => letter.Value >= each.From && letter.Value <= each.To) && PackFonts.Have(letter));
}
