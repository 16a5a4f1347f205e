namespace FleetLight.PageParts.Drawings.Circuits;

/// <summary>Sets text into narrow columns of a drawing, where the browser does not break lines.</summary>
public static class TextFit
{
    private const int MostLines = 2;

    // What is set in bold takes more room.
    private const double BoldTakes = 1.15;

    /// <summary>Lines of at most so many characters, fewer where they are set in bold; each text on at most two, what does not fit is cut with an ellipsis.</summary>
    public static IReadOnlyList<TextLine> Lines(IReadOnlyList<TextLine> texts, int mostCharacters)
    {
        ArgumentNullException.ThrowIfNull(texts);
        int Most(TextLine line) => Math.Max(line.Tone == LineTone.Plain ? mostCharacters : (int)(mostCharacters / BoldTakes), 4);
        return [.. texts.SelectMany(line => Broken(line.Text, Most(line)).Select(text => line with { Text = text }))];
    }

    private static IEnumerable<string> Broken(string text, int most)
    {
        var rest = text;
        for (var line = 1; rest.Length > most && line < MostLines; line++)
        {
            var space = rest.LastIndexOf(' ', most);
            if (space <= 0) break;
            yield return rest[..space];
            rest = rest[(space + 1)..];
        }

        yield return rest.Length <= most ? rest : string.Concat(rest.AsSpan(0, most - 1), "…");
    }
}
