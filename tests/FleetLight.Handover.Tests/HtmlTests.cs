using AngleSharp.Dom;
using AngleSharp.Html.Parser;
using FleetLight.Contracts.Facts;
using FleetLight.Handover.Blocks;
using FleetLight.Handover.Html;
using FleetLight.Handover.Writing;
using FleetLight.Record.Handover;
using FleetLight.Testing.Builders;

namespace FleetLight.Handover.Tests;

/// <summary>The HTML file as a browser reads it.</summary>
public sealed class HtmlTests
{
    private static readonly string[] Loading = ["src", "srcset", "href", "xlink:href", "data", "action", "poster", "background", "style"];

    [Fact]
    public void It_is_sound_and_names_nothing_outside()
    {
        var html = PackHtml.Of(PackWriter.Write(Garden.Pack()));
        var document = new HtmlParser(new HtmlParserOptions { IsStrictMode = true }).ParseDocument(html);

        Assert.DoesNotContain("://", html, StringComparison.Ordinal);
        Assert.DoesNotContain("url(", html, StringComparison.Ordinal);
        Assert.Empty(document.QuerySelectorAll("script, link, img, iframe, object, embed, base, form"));
        foreach (var (element, attribute) in document.All.SelectMany(element => element.Attributes.Select(attribute => (element, attribute))))
        {
            if (!Loading.Contains(attribute.Name)) continue;
            if (attribute.Name == "style") Assert.Matches(@"^width:[0-9.]+%$", attribute.Value);
            else Assert.NotNull(document.GetElementById(attribute.Value.TrimStart('#')));
            Assert.DoesNotMatch("^https?:", attribute.Value);
            Assert.NotNull(element);
        }

        Assert.Equal("default-src 'none'; style-src 'unsafe-inline'", document.QuerySelector("meta[http-equiv]")!.GetAttribute("content"));
        Assert.Equal("en", document.DocumentElement.GetAttribute("lang"));
        Assert.Single(document.QuerySelectorAll("h1"));
        Assert.All(document.QuerySelectorAll("table"), table =>
        {
            Assert.NotNull(table.QuerySelector("caption"));
            var heads = table.QuerySelectorAll("thead th").Length;
            Assert.All(table.QuerySelectorAll("tbody tr"), row => Assert.Equal(heads, row.ChildElementCount));
        });
    }

    [Fact]
    public void It_says_what_the_document_says()
    {
        var pack = Garden.Pack();
        var written = PackWriter.Write(pack);
        var document = new HtmlParser().ParseDocument(PackHtml.Of(written));

        Assert.Equal(written.Blocks.OfType<Heading>().Count(heading => heading.Level == 1), document.QuerySelectorAll("h2").Length);
        Assert.Equal(written.Blocks.OfType<Grid>().Sum(grid => grid.Rows.Count), document.QuerySelectorAll("tbody tr").Length);
        Assert.Equal(written.Blocks.OfType<Figure>().Count(), document.QuerySelectorAll("figure svg").Length);
        Assert.Equal(FactRoll.Text(pack.Digest.Facts), document.QuerySelector("pre")!.TextContent);
    }

    [Fact]
    public void What_people_recorded_stays_text()
    {
        var crew = new Crew();
        var pack = HandoverMaker.Of(
            [
                crew.Records(new SiteOpened { SiteId = Facts.Site, Name = "<script>alert(1)</script>", Place = "\"><img src=x>" }),
                crew.Records(Facts.BoxSealed(label: "</svg><b>")),
            ],
            Garden.Wish())!;
        var document = new HtmlParser().ParseDocument(PackHtml.Of(PackWriter.Write(pack)));

        Assert.Empty(document.QuerySelectorAll("script, img, b"));
        Assert.Contains("<script>alert(1)</script>", document.QuerySelector("h1")!.TextContent, StringComparison.Ordinal);
    }
}
