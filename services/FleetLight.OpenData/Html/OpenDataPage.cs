using System.Security.Cryptography;
using System.Text;

namespace FleetLight.OpenData.Html;

/// <summary>Pages of the open data: plain, without any script, and without anything from elsewhere.</summary>
public static class OpenDataPage
{
    // Letters beyond which a cell may have several lines.
    private const int LongText = 60;

    private const string Style =
        "body{font:16px/1.5 system-ui,sans-serif;margin:0;color:#22282b;background:#f5f2ea}"
        + "header{background:#1d4d4f;color:#f5f2ea;padding:.8rem 1.5rem;border-bottom:4px solid #d8942b}header a{color:#f3c47d}"
        + "main{padding:1rem 1.5rem 3rem;max-width:78rem}h1{font-size:1.5rem;margin:.4rem 0 .2rem}h2{font-size:1.1rem;margin:1.6rem 0 .4rem}"
        + "a{color:#0b5a57}table{border-collapse:collapse;background:#fffefb;display:block;overflow-x:auto;width:fit-content;max-width:100%}"
        + "th,td{border:1px solid #d9d4c5;padding:.3rem .6rem;text-align:left;vertical-align:top}th{background:#ebe6d8;white-space:nowrap}"
        + ".rows td{white-space:nowrap}.rows td.long{white-space:normal;min-width:18rem}.turn a{margin-right:1.2rem}"
        + "svg{background:#fffefb;border:1px solid #d9d4c5;display:block;margin:.6rem 0;width:100%;max-width:40rem}code{background:#ebe6d8;padding:0 .3rem}.mild{color:#5c6664}";

    /// <summary>The content security policy of such a page: its own style, named by its digest, and nothing else.</summary>
    public static string Policy { get; } =
        $"default-src 'none'; style-src 'sha256-{Convert.ToBase64String(SHA256.HashData(Encoding.UTF8.GetBytes(Style)))}'; "
        + "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

    /// <summary>A whole page.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="trail">The pages above it, with their addresses.</param>
    /// <param name="json">The address of the same as JSON.</param>
    /// <param name="content">What is on it.</param>
    public static string Of(string title, IReadOnlyList<(string Address, string Title)> trail, string json, params ReadOnlySpan<Markup> content)
    {
        var above = Markup.All(trail.Select(each => Markup.All([Markup.Link(each.Address, each.Title), Markup.Text(" › ")])));
        var head = Markup.Element("header", above, Markup.Text(title));
        var main = Markup.Element("main", [Markup.Element("h1", Markup.Text(title)), .. content, Markup.Element("p", Markup.Link(json, "The same as JSON"))]);
        return $"<!DOCTYPE html><html lang=\"en\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">"
            + $"<title>{Markup.Text($"{title} – FleetLight open data")}</title><style>{Style}</style></head><body>{head}{main}</body></html>";
    }

    /// <summary>A table.</summary>
    public static Markup Table(IEnumerable<string> heads, IEnumerable<IEnumerable<Markup>> rows) => Markup.Element("table",
        Markup.Element("thead", Markup.Element("tr", Markup.All(heads.Select(head => Markup.Element("th", Markup.Text(head)))))),
        Markup.Element("tbody", Markup.All(rows.Select(row => Markup.Element("tr", Markup.All(row.Select(cell => Markup.Element("td", cell))))))));

    /// <summary>A table of many columns and rows: what is short stays on one line, so that rows are easy to follow.</summary>
    public static Markup Rows(IEnumerable<string> heads, IEnumerable<IEnumerable<Markup>> rows) => Markup.With("table", "class", "rows",
        Markup.Element("thead", Markup.Element("tr", Markup.All(heads.Select(head => Markup.Element("th", Markup.Text(head)))))),
        Markup.Element("tbody", Markup.All(rows.Select(row => Markup.Element("tr", Markup.All(row.Select(Cell)))))));

    private static Markup Cell(Markup within) => within.ToString().Length > LongText && !within.ToString().StartsWith("<a", StringComparison.Ordinal)
        ? Markup.With("td", "class", "long", within)
        : Markup.Element("td", within);

    /// <summary>A paragraph.</summary>
    public static Markup Paragraph(string text) => Markup.Element("p", Markup.Text(text));

    /// <summary>A heading.</summary>
    public static Markup Heading(string text) => Markup.Element("h2", Markup.Text(text));
}
