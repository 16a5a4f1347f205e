using System.Globalization;
using System.Text;
using FleetLight.Handover.Blocks;

namespace FleetLight.Handover.Html;

/// <summary>
/// Lays a document out as one HTML file. It names no other file and no address, and its own policy forbids any, so it opens anywhere
/// and for as long as there are browsers.
/// </summary>
public static class PackHtml
{
    /// <summary>The file.</summary>
    public static string Of(PackDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        var html = new StringBuilder();
        html.Append("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n");
        html.Append("<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'unsafe-inline'\">\n");
        html.Append("<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n");
        html.Append(CultureInfo.InvariantCulture, $"<title>{HtmlText.Escaped(document.Title)}</title>\n<style>\n{PackStyle.Text}</style>\n</head>\n<body>\n<main>\n");
        html.Append(CultureInfo.InvariantCulture, $"<h1>{HtmlText.Escaped(document.Title)}</h1>\n");
        var parts = document.Blocks.OfType<Heading>().Where(heading => heading.Level == 1).ToList();
        foreach (var block in document.Blocks) Write(html, block, parts);
        html.Append(CultureInfo.InvariantCulture, $"</main>\n<footer><p>{HtmlText.Escaped(document.Under)}</p></footer>\n</body>\n</html>\n");
        return html.ToString();
    }

    private static void Write(StringBuilder html, Block block, List<Heading> parts)
    {
        switch (block)
        {
            case Heading { Level: 1 } heading:
                html.Append(CultureInfo.InvariantCulture, $"<h2 id=\"{Id(parts, heading)}\"{(heading.NewPage ? " class=\"page\"" : "")}>{HtmlText.Escaped(heading.Text)}</h2>\n");
                break;
            case Heading heading:
                html.Append(CultureInfo.InvariantCulture, $"<h3>{HtmlText.Escaped(heading.Text)}</h3>\n");
                break;
            case Prose prose:
                html.Append(CultureInfo.InvariantCulture, $"<p{(prose.Small ? " class=\"small\"" : "")}>{HtmlText.Escaped(prose.Text)}</p>\n");
                break;
            case Points points:
                List(html, points.Items);
                break;
            case Framed framed:
                html.Append(CultureInfo.InvariantCulture, $"<section class=\"framed\">\n<h3>{HtmlText.Escaped(framed.Title)}</h3>\n");
                if (framed.Items.Count == 1) html.Append(CultureInfo.InvariantCulture, $"<p>{HtmlText.Escaped(framed.Items[0])}</p>\n");
                else List(html, framed.Items);
                html.Append("</section>\n");
                break;
            case Pairs pairs:
                html.Append("<dl>\n");
                foreach (var (name, says) in pairs.Items)
                    html.Append(CultureInfo.InvariantCulture, $"<div><dt>{HtmlText.Escaped(name)}</dt><dd>{HtmlText.Escaped(says)}</dd></div>\n");
                html.Append("</dl>\n");
                break;
            case Grid grid:
                Table(html, grid);
                break;
            case Figure figure:
                html.Append("<figure tabindex=\"0\">\n");
                PictureSvg.Write(html, figure.Picture);
                if (figure.Caption.Length > 0) html.Append(CultureInfo.InvariantCulture, $"<figcaption>{HtmlText.Escaped(figure.Caption)}</figcaption>\n");
                html.Append("</figure>\n");
                break;
            case Contents:
                html.Append("<nav aria-label=\"Contents\">\n<ol>\n");
                foreach (var part in parts) html.Append(CultureInfo.InvariantCulture, $"<li><a href=\"#{Id(parts, part)}\">{HtmlText.Escaped(part.Text)}</a></li>\n");
                html.Append("</ol>\n</nav>\n");
                break;
            case Attached attached:
                html.Append(CultureInfo.InvariantCulture, $"<details>\n<summary>{HtmlText.Escaped($"{attached.Name}: {attached.Says}")}</summary>\n");
                html.Append(CultureInfo.InvariantCulture, $"<pre tabindex=\"0\" role=\"region\" aria-label=\"{HtmlText.Attribute(attached.Name)}\">");
                html.Append(HtmlText.Escaped(attached.Text)).Append("</pre>\n</details>\n");
                break;
        }
    }

    private static void List(StringBuilder html, IReadOnlyList<string> items)
    {
        html.Append("<ul>\n");
        foreach (var item in items) html.Append(CultureInfo.InvariantCulture, $"<li>{HtmlText.Escaped(item)}</li>\n");
        html.Append("</ul>\n");
    }

    private static void Table(StringBuilder html, Grid grid)
    {
        if (grid.Rows.Count == 0)
        {
            html.Append(CultureInfo.InvariantCulture, $"<h3>{HtmlText.Escaped(grid.Title)}</h3>\n<p>{HtmlText.Escaped(grid.None)}</p>\n");
            return;
        }

        var whole = grid.Columns.Sum(column => column.Share);
        html.Append(CultureInfo.InvariantCulture, $"<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"{HtmlText.Attribute(grid.Title)}\">\n");
        html.Append(CultureInfo.InvariantCulture, $"<table>\n<caption>{HtmlText.Escaped(grid.Title)}</caption>\n<colgroup>");
        foreach (var column in grid.Columns) html.Append(CultureInfo.InvariantCulture, $"<col style=\"width:{100 * column.Share / whole:0.##}%\">");
        html.Append("</colgroup>\n<thead><tr>");
        foreach (var column in grid.Columns) html.Append(CultureInfo.InvariantCulture, $"<th scope=\"col\"{Figures(column)}>{HtmlText.Escaped(column.Title)}</th>");
        html.Append("</tr></thead>\n<tbody>\n");
        foreach (var row in grid.Rows)
        {
            html.Append("<tr>");
            for (var i = 0; i < row.Count; i++)
            {
                var (open, close) = i == 0 ? ("th scope=\"row\"", "th") : ("td", "td");
                html.Append(CultureInfo.InvariantCulture, $"<{open}{Figures(grid.Columns[i])}>{HtmlText.Escaped(row[i])}</{close}>");
            }

            html.Append("</tr>\n");
        }

        html.Append("</tbody>\n</table>\n</div>\n");
    }

    private static string Figures(Column column) => column.Figures ? " class=\"figures\"" : "";

    private static string Id(List<Heading> parts, Heading part) => $"part-{parts.IndexOf(part) + 1}";
}
