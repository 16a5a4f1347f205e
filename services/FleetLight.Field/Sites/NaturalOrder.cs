namespace FleetLight.Field.Sites;

/// <summary>The order in which people look for names: numbers within them by their value, so that D9 stands before D10. Pure.</summary>
internal sealed class NaturalOrder : IComparer<string>
{
    /// <summary>That order.</summary>
    public static NaturalOrder ByNumbers { get; } = new();

    /// <inheritdoc/>
    public int Compare(string? x, string? y)
    {
        var one = x.AsSpan();
        var other = y.AsSpan();
        while (one.Length > 0 && other.Length > 0)
        {
            var (a, b) = (Part(one), Part(other));
            var both = char.IsAsciiDigit(one[0]) && char.IsAsciiDigit(other[0]);
            var order = both ? ByValue(one[..a].TrimStart('0'), other[..b].TrimStart('0')) : one[..a].CompareTo(other[..b], StringComparison.OrdinalIgnoreCase);
            if (order != 0) return order;
            one = one[a..];
            other = other[b..];
        }

        var rest = one.Length.CompareTo(other.Length);
        return rest != 0 ? rest : string.CompareOrdinal(x, y);
    }

    private static int ByValue(ReadOnlySpan<char> one, ReadOnlySpan<char> other) =>
        one.Length != other.Length ? one.Length.CompareTo(other.Length) : one.CompareTo(other, StringComparison.Ordinal);

    private static int Part(ReadOnlySpan<char> text)
    {
        var digits = char.IsAsciiDigit(text[0]);
        var length = 1;
        while (length < text.Length && char.IsAsciiDigit(text[length]) == digits) length++;
        return length;
    }
}
