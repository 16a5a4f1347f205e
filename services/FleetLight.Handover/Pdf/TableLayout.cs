using FleetLight.Handover.Blocks;
using PdfSharp.Drawing;

namespace FleetLight.Handover.Pdf;

/// <summary>Lays tables out: the head comes again on every page, and a row stands whole on one.</summary>
internal static class TableLayout
{
    private const double Size = 7.4;
    private const double Step = Size * 1.24;
    private const double Inset = 3;

    // What figures keep from the column to their right, whose text begins at its left.
    private const double Beside = 8;

    public static void Put(Sheets sheets, Grid grid)
    {
        var title = PackFonts.Of(10, true);
        if (grid.Rows.Count == 0)
        {
            sheets.Need(40);
            sheets.Y += 5;
            sheets.On.Write(grid.Title, title, Sheets.Edge, sheets.Y + 9.5);
            sheets.On.Write(grid.None, PackFonts.Of(9), Sheets.Edge, sheets.Y + 23);
            sheets.Y += 30;
            return;
        }

        var whole = grid.Columns.Sum(column => column.Share);
        double[] widths = [.. grid.Columns.Select(column => sheets.Width * column.Share / whole)];
        var (font, bold) = (PackFonts.Of(Size), PackFonts.Of(Size, true));
        var head = Broken(sheets, grid, [.. grid.Columns.Select(column => column.Title)], widths, bold);
        var rows = grid.Rows.Select(row => Broken(sheets, grid, row, widths, font)).ToList();
        var headHeight = Height(head);
        // The title, the head and the first row stay together.
        sheets.Need(22 + headHeight + Math.Min(Height(rows[0]), sheets.Height / 2));
        sheets.Y += 5;
        sheets.On.Write(grid.Title, title, Sheets.Edge, sheets.Y + 9.5);
        sheets.Y += 15;
        Head(sheets, grid, head, widths, bold);
        foreach (var row in rows)
        {
            // Only a row that no page could hold is split.
            foreach (var piece in Pieces(row, sheets.Height - headHeight - 4))
            {
                if (Height(piece) > sheets.Left)
                {
                    sheets.Next();
                    Head(sheets, grid, head, widths, bold);
                }

                Draw(sheets, grid, piece, widths, font);
                sheets.On.DrawLine(new XPen(XColors.Gray, 0.5), Sheets.Edge, sheets.Y, Sheets.Edge + sheets.Width, sheets.Y);
            }
        }

        sheets.Y += 8;
    }

    private static void Head(Sheets sheets, Grid grid, IReadOnlyList<string>[] head, double[] widths, XFont font)
    {
        var height = Height(head);
        sheets.On.DrawRectangle(new XSolidBrush(XColor.FromArgb(0xe9, 0xe9, 0xe9)), Sheets.Edge, sheets.Y, sheets.Width, height);
        sheets.On.DrawLine(new XPen(XColors.Black, 0.8), Sheets.Edge, sheets.Y, Sheets.Edge + sheets.Width, sheets.Y);
        Draw(sheets, grid, head, widths, font);
        sheets.On.DrawLine(new XPen(XColors.Black, 0.8), Sheets.Edge, sheets.Y, Sheets.Edge + sheets.Width, sheets.Y);
    }

    private static void Draw(Sheets sheets, Grid grid, IReadOnlyList<string>[] cells, double[] widths, XFont font)
    {
        var x = Sheets.Edge;
        for (var column = 0; column < cells.Length; column++)
        {
            for (var line = 0; line < cells[column].Count; line++)
            {
                var text = cells[column][line];
                var left = grid.Columns[column].Figures ? x + widths[column] - Beside - sheets.Lines.WidthOf(text, font) : x + Inset;
                sheets.On.Write(text, font, left, sheets.Y + Inset + (line * Step) + (Size * 0.85));
            }

            x += widths[column];
        }

        sheets.Y += Height(cells);
    }

    private static IReadOnlyList<string>[] Broken(Sheets sheets, Grid grid, IReadOnlyList<string> texts, double[] widths, XFont font) =>
        [.. texts.Select((text, column) => sheets.Lines.Broken(text, font, widths[column] - Inset - (grid.Columns[column].Figures ? Beside : Inset)))];

    private static double Height(IReadOnlyList<string>[] cells) => (Math.Max(1, cells.Max(cell => cell.Count)) * Step) + (2 * Inset);

    private static IEnumerable<IReadOnlyList<string>[]> Pieces(IReadOnlyList<string>[] row, double most)
    {
        var lines = (int)((most - (2 * Inset)) / Step);
        for (var from = 0; from == 0 || from < row.Max(cell => cell.Count); from += lines)
            yield return [.. row.Select(cell => (IReadOnlyList<string>)[.. cell.Skip(from).Take(lines)])];
    }
}
