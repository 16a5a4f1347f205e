namespace FleetLight.Demo.Reporting;

/// <summary>A table of plain text whose cells are wrapped to the width of their column.</summary>
/// <param name="Columns">Heading and width of each column, in characters; the last width is a limit only.</param>
internal sealed record Table(params IReadOnlyList<(string Heading, int Width)> Columns)
{
    private readonly List<string[]> rows = [];

    /// <summary>Adds a row. A cell may hold several lines.</summary>
    public void Add(params string[] cells) => rows.Add(cells);

    /// <summary>Writes it.</summary>
    public void Write(TextWriter output)
    {
        Write(output, [.. Columns.Select(column => column.Heading)]);
        output.WriteLine(string.Join("  ", Columns.Select(column => new string('-', column.Width))));
        foreach (var row in rows) Write(output, row);
    }

    private void Write(TextWriter output, string[] cells)
    {
        var wrapped = cells.Select((cell, index) => Wrap(cell, Columns[index].Width).ToArray()).ToArray();
        for (var line = 0; line < wrapped.Max(cell => cell.Length); line++)
        {
            var parts = wrapped.Select((cell, index) => (line < cell.Length ? cell[line] : "").PadRight(Columns[index].Width));
            output.WriteLine(string.Join("  ", parts).TrimEnd());
        }
    }

    /// <summary>The text in lines of at most so many characters, broken at spaces; a longer word stands alone.</summary>
    public static IEnumerable<string> Wrap(string text, int width)
    {
        foreach (var paragraph in text.Split('\n'))
        {
            var line = "";
            foreach (var word in paragraph.Split(' '))
            {
                if (line.Length > 0 && line.Length + 1 + word.Length > width)
                {
                    yield return line;
                    line = word;
                }
                else
                {
                    line = line.Length == 0 ? word : $"{line} {word}";
                }
            }

            yield return line;
        }
    }
}
