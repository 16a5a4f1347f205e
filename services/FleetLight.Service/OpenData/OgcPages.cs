using System.Globalization;
using FleetLight.OpenData.Cql;
using FleetLight.OpenData.Features;
using FleetLight.OpenData.Html;
using NetTopologySuite.Geometries;
using Page = FleetLight.OpenData.Html.OpenDataPage;

namespace FleetLight.Service.OpenData;

/// <summary>The open data as pages to read.</summary>
internal static class OgcPages
{
    private const string Digging = "Locate buried services before the ground is opened. Nothing here says that nothing is there, and verdicts are advice, never a certificate.";

    public static string Landing(OgcLinks links, OgcLanding landing) => Page.Of(
        landing.Title, [], $"{links.Root}?f=json",
        Page.Paragraph(landing.Description),
        Page.Table(["What", "Where"], landing.Links.Where(link => link.Rel is not ("self" or "alternate"))
            .Select(link => (Markup[])[Markup.Text(link.Title), Markup.Link(Readable(link), link.Href)])));

    public static string Conformance(OgcLinks links, OgcConformance conformance) => Page.Of(
        "What the open data hold to", Trail(links), $"{links.Root}/conformance?f=json",
        Page.Table(["Class"], conformance.ConformsTo.Select(each => (Markup[])[Markup.Text(each)])));

    public static string Collections(OgcLinks links, OgcCollections collections) => Page.Of(
        "Collections", Trail(links), $"{links.Root}/collections?f=json",
        Page.Paragraph(Digging),
        Page.Table(["Collection", "What is in it", "Features"], collections.Collections.Select(each => (Markup[])
        [
            Markup.Link($"{links.Root}/collections/{each.Id}?f=html", each.Title), Markup.Text(each.Description),
            Markup.Link($"{links.Root}/collections/{each.Id}/items?f=html", "Show"),
        ])));

    public static string Collection(OgcLinks links, FeatureKind kind, OgcCollectionLine collection) => Page.Of(
        kind.Title, [.. Trail(links), ($"{links.Root}/collections?f=html", "Collections")], $"{links.Root}/collections/{kind.Id}?f=json",
        Page.Paragraph(kind.Says),
        Markup.Element("p", Markup.Link($"{links.Root}/collections/{kind.Id}/items?f=html", "Show its features")),
        collection.Extent?.Spatial is { } where
            ? Page.Paragraph($"Reaches west, south, east, north: {string.Join(", ", where.Bbox[0].Select(Number))} (degrees, WGS 84).")
            : Markup.None,
        Page.Heading("Properties"),
        Page.Table(["Property", "Kind", "Unit", "What it says"], kind.Properties.Select(property => (Markup[])
        [
            Markup.Element("code", Markup.Text(property.Name)), Markup.Text(FeatureKinds.Word(property.Kind)), Markup.Text(property.Unit),
            Markup.Text(property.Words is null ? property.Says : $"{property.Says} One of: {string.Join(", ", property.Words)}."),
        ])),
        Page.Heading("Coordinate reference systems"),
        Page.Paragraph($"Kept in {collection.StorageCrs}; {collection.Crs.Count} can be asked for, as the JSON lists."));

    public static string Items(OgcLinks links, FeatureKind kind, FeaturePage page, string json, string? previous, string? next) => Page.Of(
        "Features",
        [.. Trail(links), ($"{links.Root}/collections?f=html", "Collections"), ($"{links.Root}/collections/{kind.Id}?f=html", kind.Title)], json,
        Page.Paragraph($"{page.Rows.Count} here{(page.Matched is { } matched ? $", {matched.ToString(CultureInfo.InvariantCulture)} altogether" : "")}. {Digging}"),
        Sketch.Of([.. page.Rows.Select(row => row.Shape).OfType<Geometry>()]),
        page.Rows.Any(row => row.Shape is null) ? Page.Paragraph("Features without a recorded position are in the table only.") : Markup.None,
        Page.Table(kind.Properties.Select(property => property.Name).Prepend("Feature"), page.Rows.Select(row => row.Values.Select(Value)
            .Prepend(Markup.Link($"{links.Root}/collections/{kind.Id}/items/{Uri.EscapeDataString(row.Id)}?f=html", row.Id)))),
        previous is null && next is null ? Markup.None : Markup.Element("p", Turn(previous, "Previous page"), Markup.Text(" "), Turn(next, "Next page")));

    public static string Item(OgcLinks links, FeatureKind kind, FeatureRow row) => Page.Of(
        row.Id,
        [
            .. Trail(links), ($"{links.Root}/collections?f=html", "Collections"), ($"{links.Root}/collections/{kind.Id}?f=html", kind.Title),
            ($"{links.Root}/collections/{kind.Id}/items?f=html", "Features"),
        ],
        $"{links.Root}/collections/{kind.Id}/items/{Uri.EscapeDataString(row.Id)}?f=json",
        Page.Paragraph(Digging),
        row.Shape is { } shape ? Sketch.Of([shape]) : Page.Paragraph("Its position was not recorded."),
        Page.Table(["Property", "Value", "What it says"], kind.Properties.Select((property, i) => (Markup[])
            [Markup.Element("code", Markup.Text(property.Name)), Value(row.Values[i]), Markup.Text(property.Says)])));

    private static Markup Turn(string? address, string says) => address is null ? Markup.None : Markup.Link(address, says);

    private static (string Address, string Title)[] Trail(OgcLinks links) => [($"{links.Root}?f=html", "Open data")];

    private static string Readable(OgcLink link) => link.Rel is "conformance" or "data" ? $"{link.Href}?f=html" : link.Href;

    private static Markup Value(object? value) => value switch
    {
        null => Markup.With("span", "class", "mild", Markup.Text("not known")),
        DateTimeOffset time => Markup.Text(CqlTimes.Text(time)),
        bool flag => Markup.Text(flag ? "yes" : "no"),
        double number => Markup.Text(Number(number)),
        _ => Markup.Text(Convert.ToString(value, CultureInfo.InvariantCulture)),
    };

    private static string Number(double number) => number.ToString("0.######", CultureInfo.InvariantCulture);
}
