using System.Text.RegularExpressions;

namespace FleetLight.Field.Enrolling;

/// <summary>What was typed or scanned as a one-time code.</summary>
/// <param name="Code">The code; empty where there is none.</param>
/// <param name="Elsewhere">The address of the service that it is for, where that is another one than the page's.</param>
public sealed partial record CodeText(string Code, string? Elsewhere)
{
    /// <summary>Reads it: the code alone, or all that the office's picture holds (<c>ADDRESS/enrol#CODE</c>). Pure.</summary>
    /// <param name="text">What was typed or scanned.</param>
    /// <param name="origin">Where the page came from.</param>
    public static CodeText Read(string? text, Uri origin)
    {
        ArgumentNullException.ThrowIfNull(origin);
        var said = (text ?? "").Trim();
        var at = said.LastIndexOf('#');
        var code = (at < 0 ? said : said[(at + 1)..]).Trim();
        if (!Code12().IsMatch(code)) return new("", null);
        code = code.ToUpperInvariant();
        return at > 0 && Uri.TryCreate(said[..at], UriKind.Absolute, out var where) && where.GetLeftPart(UriPartial.Authority) != origin.GetLeftPart(UriPartial.Authority)
            ? new(code, where.GetLeftPart(UriPartial.Authority))
            : new(code, null);
    }

    // Twelve letters and digits, with or without what stands between them.
    [GeneratedRegex("^[0-9A-Za-z]{4}[- ]?[0-9A-Za-z]{4}[- ]?[0-9A-Za-z]{4}$")]
    private static partial Regex Code12();
}
