using System.Text;
using FleetLight.Contracts.Facts;
using FleetLight.Contracts.Views;
using FleetLight.Handover.Html;
using FleetLight.Handover.Pdf;
using FleetLight.Handover.Writing;
using FleetLight.Record.Handover;
using FleetLight.Testing.Builders;
using UglyToad.PdfPig;
using UglyToad.PdfPig.DocumentLayoutAnalysis.TextExtractor;

namespace FleetLight.Handover.Tests;

/// <summary>What people wrote in letters of all kinds, on paper and on the screen.</summary>
public sealed class LettersTests
{
    [Theory]
    [InlineData("水辺の庭")]
    [InlineData("ბაღი")]
    [InlineData("Պարտեզ ✓")]
    [InlineData("Dvůr šťastných žab ἄλσος сад")]
    public void Letters_that_the_first_font_does_not_have_are_drawn_by_another(string name)
    {
        var (pack, pdf) = Made(name);
        using var read = PdfDocument.Open(pdf);
        var first = ContentOrderTextExtractor.GetText(read.GetPage(1));

        Assert.Contains(name.Replace(" ", "", StringComparison.Ordinal), first.Replace(" ", "", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("\ufffd", first, StringComparison.Ordinal);
        Assert.DoesNotContain("cannot show", first, StringComparison.Ordinal);
        Assert.Contains(name, PackHtml.Of(PackWriter.Write(pack)), StringComparison.Ordinal);
        Assert.Equal(pdf, PackPdf.Of(PackWriter.Write(pack), PackPaper.A4, Garden.Now));
    }

    [Theory]
    [InlineData("Hof \ud83d\ude00", "Hof \ufffd", "U+1F600")]
    [InlineData("حديقة west", "\ufffd\ufffd\ufffd\ufffd\ufffd west", "U+062D U+062F U+064A U+0642 U+0629")]
    [InlineData("גן", "\ufffd\ufffd", "U+05D2 U+05DF")]
    public void Letters_that_paper_cannot_show_stand_as_a_sign_and_the_first_page_names_the_words(string name, string shown, string codes)
    {
        var (pack, pdf) = Made(name);
        using var read = PdfDocument.Open(pdf);
        var first = ContentOrderTextExtractor.GetText(read.GetPage(1)).ReplaceLineEndings(" ");

        Assert.Contains($"Handover pack: {shown}", first, StringComparison.Ordinal);
        Assert.Contains("Letters that this paper cannot show stand as \ufffd", first, StringComparison.Ordinal);
        Assert.Contains($"({codes}), in the title", first, StringComparison.Ordinal);
        Assert.Equal($"Handover pack: {name}", read.Information.Title);
        var html = PackHtml.Of(PackWriter.Write(pack));
        Assert.Contains(name, html, StringComparison.Ordinal);
        Assert.DoesNotContain("\ufffd", html, StringComparison.Ordinal);
    }

    [Fact]
    public void Accents_that_stand_apart_are_kept_and_signs_that_only_steer_are_left_out()
    {
        var (_, pdf) = Made("Ja\u0308gerhof\u200b \u202eNord\u202c");
        using var read = PdfDocument.Open(pdf);
        var first = ContentOrderTextExtractor.GetText(read.GetPage(1));

        Assert.Matches("Handover pack: J(ä|a ?\u0308) ?gerhof Nord", first);
        Assert.DoesNotContain("cannot show", first, StringComparison.Ordinal);
    }

    [Fact]
    public void A_pack_in_usual_letters_holds_the_first_font_only()
    {
        var (_, pdf) = Made("Lower Quay garden");
        var bytes = Encoding.Latin1.GetString(pdf);

        Assert.Contains("+Liberation#20Sans", bytes, StringComparison.Ordinal);
        Assert.DoesNotContain("+DejaVu", bytes, StringComparison.Ordinal);
        Assert.DoesNotContain("+Droid", bytes, StringComparison.Ordinal);
    }

    private static (HandoverPack Pack, byte[] Pdf) Made(string name)
    {
        var recorded = Garden.Recorded(1, 2, 1).ToList();
        recorded.Add(new Crew("crew-b", Garden.Now.AddDays(-2)).Records(new SiteOpened { SiteId = Facts.Site, Name = name }));
        var pack = HandoverMaker.Of(recorded, Garden.Wish())!;
        return (pack, PackPdf.Of(PackWriter.Write(pack), PackPaper.A4, Garden.Now));
    }
}
