using System.Diagnostics;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Handover.Blocks;
using FleetLight.Handover.Pdf;
using FleetLight.Handover.Writing;
using FleetLight.Record.Handover;
using UglyToad.PdfPig;
using UglyToad.PdfPig.Content;

namespace FleetLight.Handover.Tests;

/// <summary>The PDF as another reader reads it.</summary>
public sealed class PdfTests
{
    private static readonly HandoverPack Pack = Garden.Pack(3, 6, 8);

    [Fact]
    public void Its_text_can_be_read_and_every_page_is_numbered()
    {
        using var pdf = Open(PackPaper.A4);
        var pages = pdf.GetPages().ToList();

        Assert.Contains("Handover pack: Lower Quay garden", TextOf(pages[0]), StringComparison.Ordinal);
        Assert.Contains("What not to do", TextOf(pages[0]), StringComparison.Ordinal);
        Assert.All(pages, page => Assert.Contains($"Page {page.Number} of {pages.Count}", TextOf(page), StringComparison.Ordinal));
        Assert.All(pages, page => Assert.Contains($"digest {Pack.Digest.Sha256[..16]}", TextOf(page), StringComparison.Ordinal));
        var all = string.Join('\n', pages.Select(TextOf));
        Assert.Contains("Ω", all, StringComparison.Ordinal);
        Assert.Contains("mm²", all, StringComparison.Ordinal);
        Assert.Contains(Pack.Digest.Sha256, all.Replace("\n", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.Equal("Handover pack: Lower Quay garden", pdf.Information.Title);
    }

    [Fact]
    public void The_list_of_contents_names_the_page_on_which_each_part_begins()
    {
        using var pdf = Open(PackPaper.A4);
        var first = TextOf(pdf.GetPage(1));
        foreach (var part in PackWriter.Write(Pack).Blocks.OfType<Heading>().Where(heading => heading.Level == 1))
        {
            var named = System.Text.RegularExpressions.Regex.Match(first, $@"{part.Text}\s*(\d+)");
            Assert.True(named.Success, part.Text);
            Assert.Contains(part.Text, TextOf(pdf.GetPage(int.Parse(named.Groups[1].Value, System.Globalization.CultureInfo.InvariantCulture))), StringComparison.Ordinal);
        }

        Assert.True(pdf.TryGetBookmarks(out var bookmarks));
        Assert.Contains(bookmarks.GetNodes(), node => node.Title == "Maintenance");
    }

    [Theory]
    [InlineData(PackPaper.A4, 595.3, 841.9)]
    [InlineData(PackPaper.Letter, 612, 792)]
    public void Nothing_leaves_the_sheet(PackPaper paper, double width, double height)
    {
        using var pdf = Open(paper);
        Assert.All(pdf.GetPages(), page =>
        {
            Assert.Equal((width, height), (Math.Round(page.Width, 1), Math.Round(page.Height, 1)));
            Assert.All(page.Letters, letter =>
            {
                Assert.InRange(letter.BoundingBox.Left, 30, width - 30);
                Assert.InRange(letter.BoundingBox.Right, 30, width - 30);
                Assert.InRange(letter.BoundingBox.Bottom, 15, height - 30);
            });
        });
    }

    [Fact]
    public void A_table_that_goes_on_has_its_head_again()
    {
        using var pdf = new Opened(PackPdf.Of(PackWriter.Write(Garden.Pack(1, 1, 120)), PackPaper.A4, Garden.Now));
        var pages = pdf.Document.GetPages().Select(TextOf)
            .Where(text => text.Contains("As it should be", StringComparison.Ordinal) && text.Contains("Meter 4", StringComparison.Ordinal)).ToList();

        Assert.True(pages.Count > 2);
        Assert.All(pages, page => Assert.Contains("95 % interval", page, StringComparison.Ordinal));
    }

    [Fact]
    public void The_list_of_facts_goes_along_and_has_the_digest_that_the_pack_names()
    {
        using var pdf = Open(PackPaper.A4);

        Assert.True(pdf.Advanced.TryGetEmbeddedFiles(out var files));
        var file = Assert.Single(files!);
        Assert.Equal("facts.txt", file.Name);
        Assert.Equal(Pack.Digest.Sha256, Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(file.Memory.ToArray())));
    }

    [Fact]
    public async Task The_same_pack_is_the_same_file_byte_for_byte()
    {
        var first = PackPdf.Of(PackWriter.Write(Pack), PackPaper.A4, Garden.Now);
        // Past the end of the second, in which dates are written.
        await Task.Delay(1100, TestContext.Current.CancellationToken);
        var second = PackPdf.Of(PackWriter.Write(Pack), PackPaper.A4, Garden.Now);

        Assert.Equal(System.Text.Encoding.Latin1.GetString(first), System.Text.Encoding.Latin1.GetString(second));
    }

    [Fact]
    public void Fonts_are_within()
    {
        var bytes = System.Text.Encoding.Latin1.GetString(PackPdf.Of(PackWriter.Write(Pack), PackPaper.A4, Garden.Now));

        Assert.Contains("/FontFile2", bytes, StringComparison.Ordinal);
        Assert.DoesNotContain("/BaseFont/Helvetica", bytes, StringComparison.Ordinal);
    }

    [Fact]
    public void Words_without_a_blank_and_odd_letters_are_laid_out_too()
    {
        var recorded = Garden.Recorded(1, 1, 0).ToList();
        var crew = new Testing.Builders.Crew("crew-b", Garden.Now.AddDays(-2));
        recorded.Add(crew.Records(Testing.Builders.CircuitFacts.Fault(what: new string('W', 480) + "\n\u00e9\u4e2d\ud83d\ude00", circuitId: "k1")));
        recorded.Add(crew.Records(new SiteOpened { SiteId = Testing.Builders.Facts.Site, Name = new string('x', 120), Place = "<b>&\u0007" }));
        using var pdf = new Opened(PackPdf.Of(PackWriter.Write(HandoverMaker.Of(recorded, Garden.Wish())!), PackPaper.A4, Garden.Now));

        Assert.True(pdf.Document.NumberOfPages > 3);
    }

    [Fact]
    public void A_site_of_which_only_its_opening_is_known_has_a_pack()
    {
        var pack = HandoverMaker.Of([new Testing.Builders.Crew().Records(Testing.Builders.Facts.SiteOpened())], Garden.Wish())!;
        using var pdf = new Opened(PackPdf.Of(PackWriter.Write(pack), PackPaper.Letter, Garden.Now));

        Assert.Contains("Nothing is recorded as built yet.", TextOf(pdf.Document.GetPage(1)), StringComparison.Ordinal);
    }

    // Twenty circuits, 160 fittings, 620 readings, 2,004 facts: within the ten seconds that a request has, with room for a slow machine.
    [Fact]
    public void A_large_site_is_made_within_the_time_of_a_request()
    {
        var recorded = Garden.Recorded(20, 8, 30);
        var watch = Stopwatch.StartNew();
        var pack = HandoverMaker.Of(recorded, Garden.Wish())!;
        var pdf = PackPdf.Of(PackWriter.Write(pack), PackPaper.A4, Garden.Now);

        Assert.Equal(620, pack.Circuits.Sum(circuit => circuit.Readings.Count));
        Assert.InRange(watch.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(9));
        Assert.InRange(pdf.Length, 100_000, 3_000_000);
    }

    private static PdfDocument Open(PackPaper paper) => PdfDocument.Open(PackPdf.Of(PackWriter.Write(Pack), paper, Garden.Now));

    private static string TextOf(Page page) => UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor.ContentOrderTextExtractor.GetText(page);

    private sealed record Opened(byte[] Bytes) : IDisposable
    {
        public PdfDocument Document { get; } = PdfDocument.Open(Bytes);

        public void Dispose() => Document.Dispose();
    }
}
