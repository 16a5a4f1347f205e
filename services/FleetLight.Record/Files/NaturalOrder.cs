namespace FleetLight.Record.Files;

/// <summary>Names as people order them: D2 before D10.</summary>
public static class NaturalOrder
{
    /// <summary>Compares two names.</summary>
    public static IComparer<string> Comparer { get; } = Comparer<string>.Create(Compare);

    private static int Compare(string? one, string? other)
    {
        if (one is null || other is null) return string.CompareOrdinal(one, other);
        var (i, j) = (0, 0);
        while (i < one.Length && j < other.Length)
        {
            if (char.IsAsciiDigit(one[i]) && char.IsAsciiDigit(other[j]))
            {
                var (first, second) = (Digits(one, ref i), Digits(other, ref j));
                // Without leading noughts, the longer number is the greater one.
                var order = first.Length != second.Length ? first.Length - second.Length : string.CompareOrdinal(first, second);
                if (order != 0) return order;
                continue;
            }

            var letters = char.ToUpperInvariant(one[i++]) - char.ToUpperInvariant(other[j++]);
            if (letters != 0) return letters;
        }

        var rest = (one.Length - i) - (other.Length - j);
        return rest != 0 ? rest : string.CompareOrdinal(one, other);
    }

    private static string Digits(string text, ref int at)
    {
        var start = at;
        while (at < text.Length && char.IsAsciiDigit(text[at])) at++;
        return text[start..at].TrimStart('0');
    }
}
