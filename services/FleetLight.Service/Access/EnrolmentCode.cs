using System.Security.Cryptography;

namespace FleetLight.Service.Access;

/// <summary>One-time codes: 12 characters of Crockford's base 32, in groups of four, made of 60 random bits.</summary>
public static class EnrolmentCode
{
    /// <summary>Number of characters without hyphens.</summary>
    public const int Length = 12;

    // Douglas Crockford, "Base 32": no I, L, O or U.
    private const string Alphabet = "0123456789ABCDEFGHJKMNPQRSTVWXYZ";

    /// <summary>A new code.</summary>
    public static string Make() => string.Create(Length + 2, 0, static (text, _) =>
    {
        Span<byte> random = stackalloc byte[Length];
        RandomNumberGenerator.Fill(random);
        for (var index = 0; index < text.Length; index++)
            text[index] = index % 5 == 4 ? '-' : Alphabet[random[index - index / 5] & 31];
    });

    /// <summary>A code as somebody typed it, in the form in which it is hashed; none where it is no code.</summary>
    public static string? Normal(string? typed)
    {
        if (typed is null || typed.Length > 40) return null;
        Span<char> plain = stackalloc char[Length];
        var length = 0;
        foreach (var letter in typed)
        {
            if (letter == '-' || char.IsWhiteSpace(letter)) continue;
            var meant = char.ToUpperInvariant(letter) switch { 'O' => '0', 'I' or 'L' => '1', var other => other };
            if (length == Length || !Alphabet.Contains(meant, StringComparison.Ordinal)) return null;
            plain[length++] = meant;
        }

        return length == Length ? plain.ToString() : null;
    }
}
