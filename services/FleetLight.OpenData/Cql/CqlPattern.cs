namespace FleetLight.OpenData.Cql;

/// <summary>Orders texts as the database does under the collation "C": by code points, which is not the order of UTF-16 code units.</summary>
internal static class CodePoints
{
    public static int Compare(string left, string right)
    {
        for (var i = 0; i < left.Length && i < right.Length; i++)
        {
            if (left[i] == right[i]) continue;
            // A half of a pair stands for a code point beyond all others.
            var (one, other) = (char.IsSurrogate(left[i]), char.IsSurrogate(right[i]));
            return one == other ? left[i].CompareTo(right[i]) : one ? 1 : -1;
        }

        return left.Length.CompareTo(right.Length);
    }
}

/// <summary>Patterns of LIKE.</summary>
public static class CqlPattern
{
    /// <summary>Whether a text is like a pattern: '%' is any letters, '_' one, and '\' takes their meaning away. Letters are compared as they are.</summary>
    public static bool IsLike(string text, string pattern)
    {
        var (letters, wanted) = (Runes(text), Runes(pattern));
        // From the last '%' on, the text is tried again one letter further: no more work than the product of the two lengths.
        int at = 0, next = 0, star = -1, from = 0;
        while (at < letters.Length)
        {
            if (next < wanted.Length && wanted[next] == '%')
            {
                (star, from) = (next++, at);
                continue;
            }

            if (next < wanted.Length && Matches(letters[at], wanted, next, out var length))
            {
                at++;
                next += length;
                continue;
            }

            if (star < 0) return false;
            at = ++from;
            next = star + 1;
        }

        while (next < wanted.Length && wanted[next] == '%') next++;
        return next == wanted.Length;
    }

    private static bool Matches(int letter, int[] wanted, int at, out int length)
    {
        length = 1;
        if (wanted[at] == '_') return true;
        if (wanted[at] != '\\' || at + 1 == wanted.Length) return wanted[at] == letter;
        length = 2;
        return wanted[at + 1] == letter;
    }

    private static int[] Runes(string text) => [.. text.EnumerateRunes().Select(rune => rune.Value)];
}
