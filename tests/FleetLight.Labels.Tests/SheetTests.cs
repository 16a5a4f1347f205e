using FleetLight.Contracts;
using FleetLight.Labels.Drawing;
using FleetLight.Labels.Sheets;
using Xunit;

namespace FleetLight.Labels.Tests;

public sealed class SheetTests
{
    private const double PenOfText = 0.15;

    public static TheoryData<double, Paper> Kinds
    {
        get
        {
            var data = new TheoryData<double, Paper>();
            foreach (var tape in new[] { 6.0, 12, 36 })
                foreach (var paper in new[] { Paper.A4, Paper.Letter }) data.Add(tape, paper);
            return data;
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_label_is_on_one_page_within_its_margins(double tape, Paper paper)
    {
        var labels = Labels(60, tape);

        var sheets = LabelSheets.Pages(labels, paper);
        var pages = sheets.Select(page => page.Drawing).ToList();

        Assert.Equal(labels, sheets.SelectMany(page => page.Labels));

        Assert.All(pages, page => Assert.Equal(paper == Paper.A4 ? (210, 297) : (215.9, 279.4), (page.Width, page.Height)));
        Assert.Equal(labels.Sum(label => label.Drawing.Blocks.Count), pages.Sum(page => page.Blocks.Count));
        // Eight cut marks a label, at its corners and outside it.
        Assert.Equal(labels.Count * 8, pages.Sum(page => page.Lines.Count(IsMark)));
        Assert.All(pages, page =>
        {
            var (left, top, right, bottom) = (page with { Lines = [.. page.Lines.Where(line => !IsMark(line))] }).Extent()!.Value;
            Assert.InRange(left, LabelSheets.MarginMillimetres, page.Width);
            Assert.InRange(top, LabelSheets.MarginMillimetres, page.Height);
            Assert.InRange(right, 0, page.Width - LabelSheets.MarginMillimetres);
            Assert.InRange(bottom, 0, page.Height - LabelSheets.MarginMillimetres);
            Assert.InRange(page.Extent()!.Value.Left, 5, page.Width);
        });
        Assert.True(pages.Count > 1 || tape < 36);
    }

    // A mark that crosses another label would be printed on it.
    [Fact]
    public void No_mark_touches_a_label()
    {
        var labels = Labels(40, 12);
        foreach (var page in LabelSheets.Pages(labels, Paper.A4).Select(page => page.Drawing))
        {
            foreach (var mark in page.Lines.Where(IsMark))
            {
                foreach (var ink in page.Lines.Where(line => !IsMark(line)))
                    Assert.All(ink.Points, spot => Assert.DoesNotContain(mark.Points, end => Math.Abs(end.X - spot.X) < 0.3 && Math.Abs(end.Y - spot.Y) < 0.3));
            }
        }
    }

    [Fact]
    public void Every_code_on_a_sheet_is_read()
    {
        var labels = Labels(4, 24);
        var page = Assert.Single(LabelSheets.Pages(labels, Paper.A4)).Drawing;

        foreach (var label in labels)
        {
            // Cut out along its marks: the reader looks for one code at a time.
            var found = new Raster(label.Drawing, 4 / label.ModuleMillimetres!.Value).Read();
            Assert.Equal(label.Address, found?.Text);
        }

        Assert.Equal(labels.Sum(label => label.Drawing.Blocks.Count), page.Blocks.Count);
    }

    [Fact]
    public void On_tape_each_label_is_a_page_of_its_own_size()
    {
        var labels = Labels(3, 18);

        Assert.Equal(labels.Select(label => label.Drawing), LabelSheets.Pages(labels, Paper.Tape).Select(page => page.Drawing));
    }

    [Fact]
    public void No_labels_make_no_page() => Assert.Empty(LabelSheets.Pages([], Paper.A4));

    private static bool IsMark(Line line) => line.Width < PenOfText;

    private static IReadOnlyList<Label> Labels(int count, double tape) =>
    [
        .. Enumerable.Range(1, count).Select(i => LabelMaker.Make(
            new LabelText(ThingKind.Cable, $"c-{i}", i % 2 == 0 ? RunEnd.Far : RunEnd.Near, $"C {i}", ["near end, 3 × 1.5 mm²", i % 3 == 0 ? "Path to the pond" : "Steps"]),
            new LabelOptions { PublicAddress = "https://fleetlight.example", TapeMillimetres = tape })),
    ];
}
