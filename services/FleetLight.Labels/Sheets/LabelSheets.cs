using FleetLight.Labels.Drawing;

namespace FleetLight.Labels.Sheets;

/// <summary>A page of labels.</summary>
/// <param name="Drawing">How it looks, mm.</param>
/// <param name="Labels">The labels on it.</param>
public sealed record LabelPage(LabelDrawing Drawing, IReadOnlyList<Label> Labels);

/// <summary>
/// Puts labels on pages: row by row, each clear of the next by a gap in which marks at its corners show where to cut. No label is
/// ever split between pages.
/// </summary>
public static class LabelSheets
{
    /// <summary>Margin of a sheet, mm: what common printers leave blank is less (common practice, no source).</summary>
    public const double MarginMillimetres = 12;

    /// <summary>Space between labels, mm.</summary>
    public const double GapMillimetres = 6;

    // A cut mark begins clear of the label, so that nothing of it stays on it.
    private const double MarkFrom = 0.5;
    private const double MarkTo = 2.5;
    private const double MarkPen = 0.1;

    private static readonly (double Width, double Height) A4 = (210, 297);
    private static readonly (double Width, double Height) Letter = (215.9, 279.4);

    /// <summary>The longest label that a page of that paper holds, mm.</summary>
    public static double MostLength(Paper paper) => paper == Paper.Tape ? 200 : Size(paper).Width - (2 * MarginMillimetres);

    /// <summary>The pages.</summary>
    public static IReadOnlyList<LabelPage> Pages(IReadOnlyList<Label> labels, Paper paper)
    {
        ArgumentNullException.ThrowIfNull(labels);
        if (paper == Paper.Tape) return [.. labels.Select(label => new LabelPage(label.Drawing, [label]))];
        var (width, height) = Size(paper);
        var pages = new List<LabelPage>();
        var (blocks, lines, on) = (new List<Block>(), new List<Line>(), new List<Label>());
        var (x, y, row) = (MarginMillimetres, MarginMillimetres, 0.0);
        foreach (var label in labels)
        {
            var drawing = label.Drawing;
            if (x > MarginMillimetres && x + drawing.Width > width - MarginMillimetres)
                (x, y, row) = (MarginMillimetres, y + row + GapMillimetres, 0);
            if (y > MarginMillimetres && y + drawing.Height > height - MarginMillimetres)
            {
                EndPage();
                (x, y, row) = (MarginMillimetres, MarginMillimetres, 0);
            }

            var placed = drawing.Moved(x, y);
            on.Add(label);
            blocks.AddRange(placed.Blocks);
            lines.AddRange(placed.Lines);
            lines.AddRange(CutMarks(x, y, drawing.Width, drawing.Height));
            x += drawing.Width + GapMillimetres;
            row = Math.Max(row, drawing.Height);
        }

        if (on.Count > 0) EndPage();
        return pages;

        void EndPage()
        {
            pages.Add(new LabelPage(new LabelDrawing(width, height, blocks, lines), on));
            (blocks, lines, on) = ([], [], []);
        }
    }

    private static (double Width, double Height) Size(Paper paper) => paper == Paper.Letter ? Letter : A4;

    private static IEnumerable<Line> CutMarks(double x, double y, double width, double height)
    {
        foreach (var (atX, right) in new[] { (x, -1), (x + width, 1) })
        {
            foreach (var (atY, down) in new[] { (y, -1), (y + height, 1) })
            {
                yield return new Line([new(atX + (right * MarkFrom), atY), new(atX + (right * MarkTo), atY)], MarkPen);
                yield return new Line([new(atX, atY + (down * MarkFrom)), new(atX, atY + (down * MarkTo))], MarkPen);
            }
        }
    }
}
