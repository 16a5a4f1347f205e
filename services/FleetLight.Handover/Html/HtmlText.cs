namespace FleetLight.Handover.Html;

/// <summary>Text that may stand in HTML, whatever people recorded.</summary>
internal static class HtmlText
{
    public static string Escaped(string text) => string.Concat(text.Where(c => c is '\t' or '\n' or '\r' || !char.IsControl(c)))
        .Replace("&", "&amp;", StringComparison.Ordinal).Replace("<", "&lt;", StringComparison.Ordinal).Replace(">", "&gt;", StringComparison.Ordinal);

    public static string Attribute(string text) => Escaped(text).Replace("\"", "&quot;", StringComparison.Ordinal);
}
