using System.Net;

namespace FleetLight.OpenData.Html;

/// <summary>A piece of a page. Texts become one only by being escaped.</summary>
public sealed class Markup
{
    private readonly string html;

    private Markup(string html) => this.html = html;

    /// <summary>Nothing.</summary>
    public static Markup None { get; } = new("");

    /// <summary>A text.</summary>
    public static Markup Text(string? text) => new(WebUtility.HtmlEncode(text ?? ""));

    /// <summary>An element with what is in it.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="within">What is in it.</param>
    public static Markup Element(string name, params ReadOnlySpan<Markup> within) => new($"<{name}>{Joined(within)}</{name}>");

    /// <summary>An element with one attribute.</summary>
    public static Markup With(string name, string attribute, string value, params ReadOnlySpan<Markup> within) =>
        new($"<{name} {attribute}=\"{WebUtility.HtmlEncode(value)}\">{Joined(within)}</{name}>");

    /// <summary>A link. Only addresses of the web, or of this service, are linked.</summary>
    public static Markup Link(string address, string text) =>
        address.StartsWith("http://", StringComparison.Ordinal) || address.StartsWith("https://", StringComparison.Ordinal) || address.StartsWith('/')
            ? With("a", "href", address, Text(text))
            : Text(text);

    /// <summary>A piece of a drawing, of which nothing comes from outside.</summary>
    internal static Markup Drawn(string svg) => new(svg);

    /// <summary>Several pieces.</summary>
    public static Markup All(IEnumerable<Markup> pieces) => new(string.Concat(pieces.Select(piece => piece.html)));

    /// <inheritdoc/>
    public override string ToString() => html;

    private static string Joined(ReadOnlySpan<Markup> pieces)
    {
        var joined = new System.Text.StringBuilder();
        foreach (var piece in pieces) joined.Append(piece.html);
        return joined.ToString();
    }
}
