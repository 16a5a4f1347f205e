using FleetLight.Handover.Blocks;
using PdfSharp.Drawing;

namespace FleetLight.Handover.Pdf;

/// <summary>Puts the pieces of a document onto sheets, one below the other.</summary>
internal sealed class Layout(Sheets sheets, PackDocument document, Dictionary<Heading, int> pages)
{
    private const double Text = 9.5;
    private const double Small = 8;

    // From one base line to the next, as a multiple of the height of the font.
    private const double Leading = 1.3;

    // What has to follow a heading on its page.
    private const double Company = 90;

    /// <summary>Lays it out and says on which page each part begins.</summary>
    public void Run()
    {
        Write(document.Title, PackFonts.Of(18, true), 0, sheets.Width, 18 * 1.2);
        sheets.Y += 2;
        for (var i = 0; i < document.Blocks.Count; i++)
        {
            if (document.Blocks[i] is Heading heading) Put(heading, document.Blocks.Skip(i + 1).Take(2));
            else Put(document.Blocks[i]);
        }
    }

    private void Put(Block block)
    {
        switch (block)
        {
            case Prose prose:
                Write(prose.Text, PackFonts.Of(prose.Small ? Small : Text), 0, sheets.Width);
                sheets.Y += 4;
                break;
            case Points points:
                Put(points.Items, 0, sheets.Width);
                sheets.Y += 3;
                break;
            case Framed framed:
                Put(framed);
                break;
            case Pairs pairs:
                Put(pairs);
                break;
            case Grid grid:
                TableLayout.Put(sheets, grid);
                break;
            case Figure figure:
                Put(figure);
                break;
            case Contents:
                PutContents();
                break;
            // What goes along as a file is not printed.
            case Attached:
                break;
        }
    }

    private void Put(Heading heading, IEnumerable<Block> next)
    {
        var isPart = heading.Level == 1;
        // Of a page that is hardly begun the rest is not left white.
        if (heading.NewPage && sheets.Left < sheets.Height * 0.6) sheets.Next();
        // A drawing stays with the heading that tells what it shows.
        var drawing = next.OfType<Figure>().Select(figure => (figure.Picture.Height * ScaleOf(figure.Picture)) + 40).FirstOrDefault();
        sheets.Need((isPart ? Company + 20 : Company) + (drawing < sheets.Height / 2 ? drawing : 0));
        if (!sheets.IsFresh) sheets.Y += isPart ? 14 : 7;
        if (isPart) pages[heading] = sheets.Number;
        var size = isPart ? 14 : 11;
        Write(heading.Text, PackFonts.Of(size, true), 0, sheets.Width);
        if (isPart)
        {
            sheets.On.DrawLine(new XPen(XColors.Black, 1), Sheets.Edge, sheets.Y + 1, Sheets.Edge + sheets.Width, sheets.Y + 1);
            sheets.Y += 7;
        }
        else
        {
            sheets.Y += 1;
        }
    }

    private void Put(IReadOnlyList<string> items, double indent, double width)
    {
        var font = PackFonts.Of(Text);
        foreach (var item in items)
        {
            var lines = sheets.Lines.Broken(item, font, width - 12);
            sheets.Need(lines.Count * Text * Leading);
            sheets.On.DrawEllipse(XBrushes.Black, Sheets.Edge + indent + 2, sheets.Y + (Text * 0.5), 2.6, 2.6);
            Write(lines, font, indent + 12);
            sheets.Y += 1.5;
        }
    }

    // A frame is never split: whoever sees a part of a warning may take it for all of it.
    private void Put(Framed framed)
    {
        var font = PackFonts.Of(Text);
        var single = framed.Items.Count == 1;
        var width = sheets.Width - 20;
        var lines = framed.Items.Sum(item => sheets.Lines.Broken(item, font, single ? width : width - 12).Count);
        var height = 13 + ((lines + 1) * Text * Leading) + (single ? 0 : 1.5 * framed.Items.Count);
        sheets.Need(height + 6);
        sheets.Y += 5;
        sheets.On.DrawRectangle(new XPen(XColors.Black, 1.2), Sheets.Edge, sheets.Y, sheets.Width, height);
        var end = sheets.Y + height;
        sheets.Y += 6;
        Write(framed.Title, PackFonts.Of(Text + 0.5, true), 10, width);
        sheets.Y += 2;
        if (single) Write(framed.Items[0], font, 10, width);
        else Put(framed.Items, 10, width);
        sheets.Y = end + 6;
    }

    private void Put(Pairs pairs)
    {
        const double names = 128;
        var (bold, font) = (PackFonts.Of(Small + 0.5, true), PackFonts.Of(Small + 0.5));
        foreach (var (name, says) in pairs.Items)
        {
            var left = sheets.Lines.Broken(name, bold, names - 8);
            var right = sheets.Lines.Broken(says, font, sheets.Width - names);
            sheets.Need(Math.Max(left.Count, right.Count) * font.Size * Leading);
            var top = sheets.Y;
            Write(left, bold, 0);
            var bottom = sheets.Y;
            sheets.Y = top;
            Write(right, font, names);
            sheets.Y = Math.Max(bottom, sheets.Y) + 1;
        }

        sheets.Y += 4;
    }

    private void Put(Figure figure)
    {
        var picture = figure.Picture;
        var caption = figure.Caption.Length == 0 ? [] : sheets.Lines.Broken(figure.Caption, PackFonts.Of(Small), sheets.Width);
        var below = (caption.Count * Small * Leading) + 8;
        var scale = ScaleOf(picture, below);
        sheets.Need((picture.Height * scale) + below);
        PicturePdf.Draw(sheets.On, picture, Sheets.Edge, sheets.Y, scale);
        sheets.Y += (picture.Height * scale) + 4;
        Write(caption, PackFonts.Of(Small), 0);
        sheets.Y += 4;
    }

    // As large as it is on a screen, and smaller only where the sheet asks for that.
    private double ScaleOf(Pictures.Picture picture, double below = 0) =>
        Math.Min(PicturePdf.PointsPerPixel, Math.Min(sheets.Width / picture.Width, (sheets.Height - below) / picture.Height));

    private void PutContents()
    {
        var font = PackFonts.Of(Small + 0.5);
        var parts = document.Blocks.OfType<Heading>().Where(heading => heading.Level == 1).ToList();
        var rows = (parts.Count + 1) / 2;
        sheets.Need(rows * font.Size * Leading);
        var top = sheets.Y + 2;
        var width = (sheets.Width - 24) / 2;
        for (var i = 0; i < parts.Count; i++)
        {
            var (x, y) = (Sheets.Edge + (i / rows * (width + 24)), top + (((i % rows) + 0.8) * font.Size * Leading));
            var number = pages.TryGetValue(parts[i], out var page) ? page.ToString(System.Globalization.CultureInfo.InvariantCulture) : "";
            sheets.On.Write(parts[i].Text, font, x, y);
            sheets.On.Write(number, font, x + width - sheets.Lines.WidthOf(number, font), y);
            var from = x + sheets.Lines.WidthOf(parts[i].Text, font) + 4;
            sheets.On.DrawLine(new XPen(XColors.Gray, 0.5) { DashStyle = XDashStyle.Dot }, from, y - 1, x + width - 16, y - 1);
        }

        sheets.Y = top + (rows * font.Size * Leading);
    }

    private void Write(string text, XFont font, double indent, double width, double? leading = null) =>
        Write(sheets.Lines.Broken(text, font, width), font, indent, leading);

    private void Write(IReadOnlyList<string> lines, XFont font, double indent, double? leading = null)
    {
        var step = leading ?? font.Size * Leading;
        foreach (var line in lines)
        {
            sheets.Need(step);
            sheets.On.Write(line, font, Sheets.Edge + indent, sheets.Y + (font.Size * 0.95));
            sheets.Y += step;
        }
    }
}
