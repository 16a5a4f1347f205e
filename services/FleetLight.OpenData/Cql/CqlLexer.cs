using System.Globalization;
using System.Text;

namespace FleetLight.OpenData.Cql;

internal enum CqlTokenKind
{
    Name,
    QuotedName,
    Text,
    Number,
    Sign,
    End,
}

/// <summary>A piece of a filter.</summary>
/// <param name="Kind">What it is.</param>
/// <param name="Text">Its text, without quotes.</param>
/// <param name="Number">Its value, of a number.</param>
/// <param name="At">Where it begins.</param>
internal readonly record struct CqlToken(CqlTokenKind Kind, string Text, double Number, int At);

/// <summary>Cuts the text of a filter into pieces.</summary>
internal static class CqlLexer
{
    private static readonly string[] Signs = ["<>", "<=", ">=", "=", "<", ">", "(", ")", ","];

    public static List<CqlToken> Cut(string text)
    {
        var tokens = new List<CqlToken>();
        var at = 0;
        while (true)
        {
            while (at < text.Length && char.IsWhiteSpace(text[at])) at++;
            if (at == text.Length) break;
            tokens.Add(Next(text, ref at));
        }

        tokens.Add(new CqlToken(CqlTokenKind.End, "", 0, text.Length));
        return tokens;
    }

    private static CqlToken Next(string text, ref int at)
    {
        var (start, first) = (at, text[at]);
        if (first is '\'' or '"') return Quoted(text, ref at);
        if (char.IsLetter(first) || first == '_')
        {
            while (at < text.Length && (char.IsLetterOrDigit(text[at]) || text[at] is '_' or '.')) at++;
            return new CqlToken(CqlTokenKind.Name, text[start..at], 0, start);
        }

        if (char.IsAsciiDigit(first) || (first is '.' or '-' or '+' && at + 1 < text.Length && (char.IsAsciiDigit(text[at + 1]) || text[at + 1] == '.')))
            return Number(text, ref at);
        foreach (var sign in Signs)
        {
            if (string.CompareOrdinal(text, at, sign, 0, sign.Length) != 0) continue;
            at += sign.Length;
            return new CqlToken(CqlTokenKind.Sign, sign, 0, start);
        }

        throw new CqlException($"'{first}' means nothing here", start);
    }

    private static CqlToken Quoted(string text, ref int at)
    {
        var (start, quote) = (at, text[at]);
        var found = new StringBuilder();
        for (at++; at < text.Length; at++)
        {
            if (text[at] != quote)
            {
                found.Append(text[at]);
                continue;
            }

            // Twice the quote is one of its own.
            if (at + 1 < text.Length && text[at + 1] == quote)
            {
                found.Append(quote);
                at++;
                continue;
            }

            at++;
            return new CqlToken(quote == '\'' ? CqlTokenKind.Text : CqlTokenKind.QuotedName, found.ToString(), 0, start);
        }

        throw new CqlException($"The {(quote == '\'' ? "text" : "name")} that begins here has no closing {quote}", start);
    }

    private static CqlToken Number(string text, ref int at)
    {
        var start = at;
        if (text[at] is '-' or '+') at++;
        while (at < text.Length && (char.IsAsciiDigit(text[at]) || text[at] == '.')) at++;
        if (at < text.Length && text[at] is ('e' or 'E'))
        {
            at++;
            if (at < text.Length && text[at] is ('-' or '+')) at++;
            while (at < text.Length && char.IsAsciiDigit(text[at])) at++;
        }

        var written = text[start..at];
        if (!double.TryParse(written, NumberStyles.Float, CultureInfo.InvariantCulture, out var number) || !double.IsFinite(number))
            throw new CqlException($"'{written}' is no number", start);
        return new CqlToken(CqlTokenKind.Number, written, number, start);
    }
}
