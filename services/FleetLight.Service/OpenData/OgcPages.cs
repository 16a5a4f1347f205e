using System.Globalization;
using FleetLight.OpenData.Features;
using FleetLight.OpenData.Html;
using NetTopologySuite.Geometries;
using Page = FleetLight.OpenData.Html.OpenDataPage;

namespace FleetLight.Service.OpenData;

/// <summary>The open data as pages to read.</summary>
internal static class OgcPages
{
    private const string Digging = "Locate buried services before the ground is opened. Nothing here says that nothing is there, and verdicts are advice, never a certificate.";

    private const string WholeSeconds = "yyyy-MM-dd HH:mm:ss 'UTC'";
    private const string Milliseconds = "yyyy-MM-dd HH:mm:ss.fff 'UTC'";

    // What people look for comes first; the rest as it is listed.
    private static readonly string[] First = ["data", "enclosure", "service-doc"];

    public static string Landing(OgcLinks links, OgcLanding landing) => Page.Of(
        landing.Title, [], $"{links.Root}?f=json",
        Page.Paragraph(landing.Description),
        Page.Table(["Where to go", "Form"], landing.Links.Where(link => link.Rel is not ("self" or "alternate")).OrderBy(Place)
            .Select(link => (Markup[])[Markup.Link(Readable(link), link.Title ?? link.Href), Markup.Text(FormOf(link))])));

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
            Markup.Element("code", Markup.Text(property.Name)), Markup.Text(FeatureKinds.Word(property.Kind)), Markup.Text(property.Unit == "1" ? "" : property.Unit),
            Markup.Text(property.Words is null ? property.Says : $"{property.Says} One of: {string.Join(", ", property.Words)}."),
        ])),
        Page.Heading("Coordinate reference systems"),
        Page.Paragraph($"Kept in {collection.StorageCrs}; {collection.Crs.Count} can be asked for, as the JSON lists."));

    public static string Items(OgcLinks links, FeatureKind kind, FeaturePage page, string json, string? previous, string? next)
    {
        // Where a property says the same as the feature's own id, once is enough.
        var said = kind.Properties[0].Name == "id" && page.Rows.All(row => row.Values[0] is string id && id == row.Id) ? 1 : 0;
        return Page.Of(
            "Features",
            [.. Trail(links), ($"{links.Root}/collections?f=html", "Collections"), ($"{links.Root}/collections/{kind.Id}?f=html", kind.Title)], json,
            Page.Paragraph(
                $"{kind.Title}: {page.Rows.Count} here{(page.Matched is { } matched ? $", {matched.ToString(CultureInfo.InvariantCulture)} altogether" : "")}. {Digging}"),
            Sketch.Of([.. page.Rows.Select(row => row.Shape).OfType<Geometry>()]),
            page.Rows.Any(row => row.Shape is null) ? Page.Paragraph("Features without a recorded position are in the table only.") : Markup.None,
            Page.Rows(kind.Properties.Skip(said).Select(property => property.Name).Prepend("Feature"), page.Rows.Select(row => row.Values.Skip(said).Select(Value)
                .Prepend(Markup.Link($"{links.Root}/collections/{kind.Id}/items/{Uri.EscapeDataString(row.Id)}?f=html", row.Id)))),
            Turns(previous, next));
    }

    public static string Item(OgcLinks links, FeatureKind kind, FeatureRow row) => Page.Of(
        row.Id,
        [
            .. Trail(links), ($"{links.Root}/collections?f=html", "Collections"), ($"{links.Root}/collections/{kind.Id}?f=html", kind.Title),
            ($"{links.Root}/collections/{kind.Id}/items?f=html", "Features"),
        ],
        $"{links.Root}/collections/{kind.Id}/items/{Uri.EscapeDataString(row.Id)}?f=json",
        Page.Paragraph(Digging),
        row.Shape is not { } shape ? Page.Paragraph("Its position was not recorded.")
            : shape is Point at ? Page.Paragraph($"Longitude {Number(at.X, 8)}, latitude {Number(at.Y, 8)} (degrees, WGS 84).") : Sketch.Of([shape]),
        Page.Table(["Property", "Value", "What it says"], kind.Properties.Select((property, i) => (Markup[])
            [Markup.Element("code", Markup.Text(property.Name)), Value(row.Values[i]), Markup.Text(property.Says)])));

    private static Markup Turns(string? previous, string? next) => previous is null && next is null
        ? Markup.None
        : Markup.With("p", "class", "turn", Turn(previous, "Page before"), Turn(next, "Next page"));

    private static Markup Turn(string? address, string says) => address is null ? Markup.None : Markup.Link(address, says);

    private static (string Address, string Title)[] Trail(OgcLinks links) => [($"{links.Root}?f=html", "Open data")];

    private static string Readable(OgcLink link) => link.Rel is "conformance" or "data" ? $"{link.Href}?f=html" : link.Href;

    private static Markup Value(object? value) => value switch
    {
        null => Markup.With("span", "class", "mild", Markup.Text("not known")),
        DateTimeOffset time => Markup.Text(time.UtcDateTime.ToString(time.Millisecond == 0 ? WholeSeconds : Milliseconds, CultureInfo.InvariantCulture)),
        bool flag => Markup.Text(flag ? "yes" : "no"),
        double number => Markup.Text(Number(number)),
        _ => Markup.Text(Convert.ToString(value, CultureInfo.InvariantCulture)),
    };

    private static int Place(OgcLink link) => Array.IndexOf(First, link.Rel) is var at && at < 0 ? First.Length : at;

    private static string FormOf(OgcLink link) => link.Type switch
    {
        OgcLinks.GeoPackage => "GeoPackage, one file",
        OgcLinks.Html or OgcLinks.Json => "page",
        _ => "OpenAPI 3.1, for programs",
    };

    private static string Number(double number, int decimals = 6) => Math.Round(number, decimals).ToString("0.########", CultureInfo.InvariantCulture);
}
